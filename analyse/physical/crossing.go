package physical

import (
	"cmp"
	"math"
	"slices"
)

// maxOutlinePoints bounds the search for crossings, whose worst case grows with
// the square: half a second at this size. Traced outlines have some hundreds.
const maxOutlinePoints = 10_000

// side is one edge of an outline with its ordinal and its extent in x.
type side struct {
	i         int
	a, b      vec
	low, high float64
}

// crossings refuses a closed outline without area, all of whose points lie on one
// line, and one two of whose edges meet anywhere but at the vertex that neighbours share. Edges are taken in the order of their left ends,
// so that only those overlapping in x are compared.
func crossings(outline []vec) error {
	n := len(outline)
	if n > maxOutlinePoints {
		return ErrTooManyPoints
	}
	if n < 3 {
		return ErrDegenerate
	}
	if flat(outline) {
		return ErrFlat
	}
	sides := make([]side, n)
	for i := range outline {
		a, b := outline[i], outline[(i+1)%n]
		sides[i] = side{i, a, b, math.Min(a.x, b.x), math.Max(a.x, b.x)}
	}
	// Ordinals are sorted, not the sides, which are ten times as large.
	order := make([]int, n)
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(i, j int) int { return cmp.Compare(sides[i].low, sides[j].low) })
	for k, i := range order {
		s := &sides[i]
		for _, j := range order[k+1:] {
			t := &sides[j]
			if t.low > s.high {
				break
			}
			if meet(s, t, n) {
				return ErrSelfCrossing
			}
		}
	}
	return nil
}

// flat tells that all points lie on one line through the first. It is asked first:
// such an outline also runs back on itself, which is not what is wrong with it.
func flat(outline []vec) bool {
	var along vec
	for _, p := range outline[1:] {
		if d := p.minus(outline[0]); d.squared() > along.squared() {
			along = d
		}
	}
	for _, p := range outline[1:] {
		if along.cross(p.minus(outline[0])) != 0 {
			return false
		}
	}
	return true
}

// meet tells whether two edges share more than the vertex of neighbours.
func meet(s, t *side, n int) bool {
	switch {
	case (s.i+1)%n == t.i:
		return foldsBack(s.a, s.b, t.b)
	case (t.i+1)%n == s.i:
		return foldsBack(t.a, t.b, s.b)
	}
	if !overlap(s.a.y, s.b.y, t.a.y, t.b.y) {
		return false
	}
	d1, d2 := turn(s.a, s.b, t.a), turn(s.a, s.b, t.b)
	d3, d4 := turn(t.a, t.b, s.a), turn(t.a, t.b, s.b)
	if d1 != d2 && d3 != d4 && d1*d2 <= 0 && d3*d4 <= 0 {
		return true
	}
	// All four on one line: they meet where their boxes do.
	return d1 == 0 && d2 == 0 && overlap(s.a.x, s.b.x, t.a.x, t.b.x) && overlap(s.a.y, s.b.y, t.a.y, t.b.y)
}

// foldsBack tells that the edge b–c runs back along a–b.
func foldsBack(a, b, c vec) bool {
	u, w := b.minus(a), c.minus(b)
	return u.cross(w) == 0 && u.dot(w) < 0
}

// turn is the side of the line a–b on which c lies: −1, 0 or 1.
func turn(a, b, c vec) int {
	return cmp.Compare(b.minus(a).cross(c.minus(a)), 0)
}

func overlap(a, b, c, d float64) bool {
	return math.Max(math.Min(a, b), math.Min(c, d)) <= math.Min(math.Max(a, b), math.Max(c, d))
}
