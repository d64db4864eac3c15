package rebuild

import (
	"fmt"
	"math"

	"leadline/analyse"
	"leadline/analyse/physical"
	"leadline/ingest"
)

// mostCycles is how many beats or breaths a line is set over at most (common practice,
// no source). More would let a wrong rate agree by chance.
const mostCycles = 5

// countCycles settles how many cycles the line of a rate spans, which no file says: as
// many as make the reported value agree, else one. The note says which.
func (c *caliper) countCycles(s *scale) {
	for i := range s.formulas {
		f := &s.formulas[i]
		if f.quantity != analyse.Rate {
			continue
		}
		n := c.cycles(s.plane)
		f.compute, f.note = onCycles(n), "the line is taken as one cycle"
		if n > 1 {
			f.note = fmt.Sprintf("the line is taken as %d cycles, by which the reported value agrees", n)
		}
	}
}

func (c *caliper) cycles(p physical.Plane) int {
	if c.m.Reported == nil || c.want.unit != physical.PerMin {
		return 1
	}
	reported, half := c.m.Reported.Value*c.want.factor, halfPlace(c.m.Reported, c.want, new(notes))
	for n := 1; n <= mostCycles; n++ {
		q, err := onCycles(n)(p, c.m.Points)
		q, _ = withScale(q, analyse.Rate, c.rule, nil)
		if err == nil && math.Abs(reported-q.Value) <= half+q.ExpandedU() {
			return n
		}
	}
	return 1
}

func onCycles(n int) func(physical.Plane, []ingest.Point) (physical.Quantity, error) {
	return func(p physical.Plane, pts []ingest.Point) (physical.Quantity, error) {
		return p.CycleRate(pts[0], pts[1], n)
	}
}
