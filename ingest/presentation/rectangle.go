package presentation

import (
	"math"

	"leadline/ingest/coord"
)

// rectangle is an upright box; a single point is one of no size.
type rectangle struct{ left, top, right, bottom float64 }

// distance is the shortest way from the box to the segment a–b, 0 where they meet.
// Two convex figures that do not meet are nearest at a corner or an end of one.
func (r rectangle) distance(a, b coord.Point) float64 {
	if r.meets(a, b) {
		return 0
	}
	best := math.Min(r.toPoint(a), r.toPoint(b))
	for _, corner := range []coord.Point{{X: r.left, Y: r.top}, {X: r.right, Y: r.top}, {X: r.left, Y: r.bottom}, {X: r.right, Y: r.bottom}} {
		best = math.Min(best, toSegment(corner, a, b))
	}
	return best
}

// apart is at most the distance of the segment a–b, and quickly found.
func (r rectangle) apart(a, b coord.Point) float64 {
	dx := max(r.left-max(a.X, b.X), min(a.X, b.X)-r.right)
	dy := max(r.top-max(a.Y, b.Y), min(a.Y, b.Y)-r.bottom)
	return max(dx, dy)
}

func (r rectangle) toPoint(p coord.Point) float64 {
	dx := math.Max(0, math.Max(r.left-p.X, p.X-r.right))
	dy := math.Max(0, math.Max(r.top-p.Y, p.Y-r.bottom))
	return math.Hypot(dx, dy)
}

// toSegment is the distance of p to the segment a–b.
func toSegment(p, a, b coord.Point) float64 {
	dx, dy := b.X-a.X, b.Y-a.Y
	t := 0.0
	if length := dx*dx + dy*dy; length > 0 {
		t = math.Max(0, math.Min(1, ((p.X-a.X)*dx+(p.Y-a.Y)*dy)/length))
	}
	return math.Hypot(p.X-a.X-t*dx, p.Y-a.Y-t*dy)
}

// meets clips the segment a–b against the four sides and tells whether anything
// of it is left.
func (r rectangle) meets(a, b coord.Point) bool {
	from, to := 0.0, 1.0
	clip := func(start, delta, low, high float64) bool {
		if delta == 0 {
			return low <= start && start <= high
		}
		enter, leave := (low-start)/delta, (high-start)/delta
		if enter > leave {
			enter, leave = leave, enter
		}
		from, to = math.Max(from, enter), math.Min(to, leave)
		return from <= to
	}
	return clip(a.X, b.X-a.X, r.left, r.right) && clip(a.Y, b.Y-a.Y, r.top, r.bottom)
}
