package indices

import (
	"math"

	"leadline/analyse/physical"
)

// ellipsoidVolume is π/6·a·b·c. Texts that round π/6 to 0.52 give 0.7 % less, those
// that write 0.5 give 4.5 % less.
func ellipsoidVolume(id, title string) Definition {
	size := func(symbol, property string) Input {
		return Input{Symbol: symbol, Measure: id + "-" + property, Unit: physical.MM}
	}
	return Definition{
		ID: "volume-" + id, Title: "Volume, " + title + ", as an ellipsoid",
		Formula: "π/6 · a · b · c", Unit: physical.ML,
		Inputs:    []Input{size("a", "length"), size("b", "width"), size("c", "depth")},
		Reference: "geometry",
		Caution:   "the three diameters must stand at right angles; that is not checked",
		Compute:   product(math.Pi/6, 1, 1, 1),
	}
}

var organs = []bodyPart{
	{"kidney", "kidney", true},
	{"bladder", "bladder", false},
}
