package rebuild

import (
	"math"
	"strings"

	"leadline/analyse"
	"leadline/ingest"
)

// caliper is one measurement as it was found, before anything is rebuilt.
type caliper struct {
	// m holds identity, reported value, geometry and points.
	m analyse.Measurement
	// images may hold the caliper; a graphic drawn on several stands for each.
	images []ingest.Reference
	want   want
	notes  notes
	// rule is what the protocol says of uncertainties.
	rule *analyse.UncertaintyRule
	// explain tells that the steps are written down.
	explain bool
	// stop is set where the graphic itself cannot be used.
	stop *failure
	// planes are both calipers of a volume of two planes; none for all else.
	planes []caliper
	// bare tells that there is no caliper: a number alone.
	bare bool
}

// reported is the number as the archive gives it; one that is no finite number is
// none.
func reported(value ingest.Optional[float64], text, unit string) *analyse.Reported {
	v, ok := value.Get()
	if !ok || math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	return &analyse.Reported{Value: v, Text: text, Unit: unit}
}

// notes are remarks in the order they were made.
type notes []string

func (n *notes) add(text string) {
	if text == "" {
		return
	}
	for _, have := range *n {
		if have == text {
			return
		}
	}
	*n = append(*n, text)
}

func (n notes) String() string { return strings.Join(n, "; ") }

// frames takes over the frame numbers of the references. Frames count from 1;
// real reports also write 0, which names no frame (PS3.3 C.18.4-1).
func (c *caliper) frames(ref ingest.Reference) {
	c.m.Frames = nil
	for _, f := range ref.Frames {
		if f > 0 {
			c.m.Frames = append(c.m.Frames, f)
			continue
		}
		c.notes.add("frame 0 is named, though frames count from 1; taken as the whole image")
	}
}
