package indices

import (
	"math"

	"leadline/analyse"
)

// term is a value with its standard uncertainty in parts: its own, and that of the
// scale of each device it was measured on. One device has one error of length, one
// of time and one of velocity in all its images of a study: with them the values of
// a ratio move together, and means of repeats gain nothing.
type term struct {
	value, own float64
	// scales holds each device once, in the order in which they came up.
	scales []scale
}

type scale struct {
	device string
	u      analyse.ScaleU
}

// stdU is the standard uncertainty of all parts.
func (t term) stdU() float64 {
	variance := t.own * t.own
	for _, s := range t.scales {
		variance += s.u.StdU() * s.u.StdU()
	}
	return math.Sqrt(variance)
}

// combined adds the parts of the inputs, each times the derivative by it: own parts
// in squares, those of one scale with their signs. The value is left 0.
func combined(inputs []term, by []float64) term {
	var t term
	variance := 0.0
	for i, in := range inputs {
		variance += math.Pow(by[i]*in.own, 2)
		for _, s := range in.scales {
			sum := t.scaleOf(s.device)
			sum.Length += by[i] * s.u.Length
			sum.Time += by[i] * s.u.Time
			sum.Velocity += by[i] * s.u.Velocity
		}
	}
	t.own = math.Sqrt(variance)
	return t
}

func (t *term) scaleOf(device string) *analyse.ScaleU {
	for i := range t.scales {
		if t.scales[i].device == device {
			return &t.scales[i].u
		}
	}
	t.scales = append(t.scales, scale{device: device})
	return &t.scales[len(t.scales)-1].u
}
