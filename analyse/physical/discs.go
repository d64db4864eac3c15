package physical

import (
	"errors"
	"math"
	"slices"

	"leadline/ingest"
)

// Discs is the number of discs that a cavity is cut into (modified Simpson's rule;
// 20 by the chamber quantification guideline, Lang 2015; from memory).
const Discs = 20

// mm3PerML turns volumes of lengths in mm into mL.
const mm3PerML = 1000

// ErrDiscs: a disc does not meet the contour in two points.
var ErrDiscs = errors.New("contour is not met on both sides of its long axis at every disc")

// Cavity is the contour of a cavity cut into discs of equal height along its long
// axis: length in mm and the diameters of the discs, all with their derivatives.
type Cavity struct {
	plane Plane
	// points are those of the contour, then the ends of the axis.
	points     []ingest.Point
	length     float64
	byLength   []vec
	diameters  []float64
	byDiameter [][]vec
}

// Cavity cuts a closed contour along the axis from a to b. Both planes must be
// lengths; a contour that crosses itself is refused, and one that a line across the
// axis meets more than twice. The ends of the axis are points of their own, unless
// they have exactly the coordinates of a point of the contour.
func (p Plane) Cavity(contour []ingest.Point, a, b ingest.Point) (*Cavity, error) {
	if !p.Lengths() {
		return nil, ErrAxes
	}
	contour = ring(contour)
	if len(contour) < 3 {
		return nil, ErrPointCount
	}
	if err := crossings(merged(pixels(contour))); err != nil {
		return nil, err
	}
	outline, from, to := p.all(contour), p.at(a), p.at(b)
	axis := to.minus(from)
	c := &Cavity{plane: p, points: slices.Concat(contour, []ingest.Point{a, b}), length: axis.length()}
	if p.Work != nil {
		p.Work.Points = c.points
		p.Work.long(p, axis, from)
	}
	if c.length == 0 {
		return nil, ErrDegenerate
	}
	u := axis.over(c.length)
	n := len(outline)
	c.byLength = make([]vec, n+2)
	c.byLength[n], c.byLength[n+1] = u.times(-1), u
	for i := range Discs {
		d, by, err := chord(outline, from, to, (float64(i)+0.5)/Discs, disc{p.Work, i + 1})
		if err != nil {
			return nil, err
		}
		c.diameters, c.byDiameter = append(c.diameters, d), append(c.byDiameter, by)
	}
	return c, nil
}

// chord is the distance between the two places where the line across the axis, at
// the given part of it, meets the outline, with its derivatives by the points of
// the outline and then the ends of the axis.
//
// With u along and w across the axis, c the place on it, and the edge from p to q
// met at p + s(q−p) = c + h·w:
//
//	dh = ((1−s)·dp + s·dq − dc)·(w − m·u) − m·h·dθ,  m = (q−p)·w / (q−p)·u
//
// where dθ = (db − da)·w / L is the turn of the axis.
func chord(outline []vec, a, b vec, part float64, explain disc) (float64, []vec, error) {
	n := len(outline)
	axis := b.minus(a)
	length := axis.length()
	u := axis.over(length)
	w := u.turned()
	c := a.plus(axis.times(part))
	explain.place(a, b, c)
	low, high := math.Inf(1), math.Inf(-1)
	by := make([]vec, n+2)
	met := 0
	for i, p := range outline {
		j := (i + 1) % n
		edge := outline[j].minus(p)
		before, after := p.minus(c).dot(u), outline[j].minus(c).dot(u)
		// Half open, so that a vertex on the line counts for one of its edges.
		if (before < 0) == (after < 0) {
			continue
		}
		met++
		s := before / (before - after)
		h := p.plus(edge.times(s)).minus(c).dot(w)
		low, high = math.Min(low, h), math.Max(high, h)
		explain.meeting(i, j, p, outline[j], c, u, before, after, s, h)
		m := edge.dot(w) / edge.dot(u)
		across := w.minus(u.times(m))
		turn := w.times(m * h / length)
		// The place of this meeting is added where it is the higher of the two.
		sign := 1.0
		if h < 0 {
			sign = -1
		}
		by[i] = by[i].plus(across.times(sign * (1 - s)))
		by[j] = by[j].plus(across.times(sign * s))
		by[n] = by[n].plus(across.times(-sign * (1 - part))).plus(turn.times(sign))
		by[n+1] = by[n+1].plus(across.times(-sign * part)).plus(turn.times(-sign))
	}
	if met != 2 || low > 0 || high < 0 {
		return 0, nil, ErrDiscs
	}
	explain.diameter(high, low)
	return high - low, by, nil
}

// Volume is that of round discs, in mL (single plane):
//
//	V = π/4 · L/n · Σ d_i²
func (c *Cavity) Volume() (Quantity, error) {
	k := math.Pi / 4 / Discs / mm3PerML
	sum := 0.0
	partials := make([]vec, len(c.byLength))
	for i, d := range c.diameters {
		sum += d * d
		add(partials, c.byDiameter[i], k*c.length*2*d)
	}
	add(partials, c.byLength, k*sum)
	if w := c.plane.Work; w != nil {
		w.value("sum of squares", MM2, sum, Plus(Discs, "%v^2"), c.diameters...)
		w.value("volume", ML, k*c.length*sum, "pi / 4 * %v / 20 * %v / 1000", c.length, sum)
	}
	return c.plane.result(k*c.length*sum, ML, c.points, partials)
}

// add adds k times by to sum.
func add(sum, by []vec, k float64) {
	for i := range by {
		sum[i] = sum[i].plus(by[i].times(k))
	}
}
