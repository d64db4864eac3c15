package indices

import (
	"fmt"

	"leadline/analyse"
)

// met counts the shared coordinates of a measurement that the index uses.
func (r *resolved) met(m *analyse.Measurement) {
	for _, c := range m.Shared {
		r.count(c.Of, 1)
	}
}

// join takes over those of an index that stands for an input.
func (r *resolved) join(from resolved) {
	for of, n := range from.shared {
		r.count(of, n)
	}
}

func (r *resolved) count(of *analyse.Coordinate, n int) {
	if r.shared == nil {
		r.shared = map[*analyse.Coordinate]int{}
	}
	r.shared[of] += n
}

// inCommon tells of points that move more than one of the measurements used; empty
// where there is none.
func (r *resolved) inCommon() string {
	points, frames := map[int]bool{}, map[int]bool{}
	for of, n := range r.shared {
		switch {
		case n < 2 || of.Axis == analyse.AxisPeriod:
		case of.Axis == analyse.AxisFrame:
			frames[of.Spot] = true
		default:
			points[of.Spot] = true
		}
	}
	switch {
	case len(points) == 1:
		return "its calipers share a point, whose error is in U once"
	case len(points) > 1:
		return fmt.Sprintf("its calipers share %d points, the error of each of which is in U once", len(points))
	case len(frames) > 0:
		return "its intervals share a frame, whose error is in U once"
	}
	return ""
}
