package indices

import (
	"fmt"

	"leadline/analyse"
)

// point is a shared point, or a frame of a clip, by its number.
type point struct {
	spot  int
	frame bool
}

// met counts the shared points of a measurement that the index uses.
func (r *resolved) met(m *analyse.Measurement) {
	var last point
	for _, c := range m.Shared {
		p := point{c.Of.Spot, c.Of.Axis == analyse.AxisFrame}
		if c.Of.Axis == analyse.AxisPeriod || p == last {
			continue // what is no point, and the other coordinate of one
		}
		if r.points == nil {
			r.points = map[point]int{}
		}
		r.points[p]++
		last = p
	}
}

// join takes over the points of an index that stands for an input.
func (r *resolved) join(from resolved) {
	for p, n := range from.points {
		if r.points == nil {
			r.points = map[point]int{}
		}
		r.points[p] += n
	}
}

// inCommon tells of points that belong to more than one of the measurements used;
// empty where there is none.
func (r *resolved) inCommon() string {
	points, frames := 0, 0
	for p, n := range r.points {
		switch {
		case n < 2:
		case p.frame:
			frames++
		default:
			points++
		}
	}
	switch {
	case points == 1:
		return "its calipers share a point, whose error is in U once"
	case points > 1:
		return fmt.Sprintf("its calipers share %d points, the error of each of which is in U once", points)
	case frames > 0:
		return "its intervals share a frame, whose error is in U once"
	}
	return ""
}
