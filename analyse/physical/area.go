package physical

import (
	"math"

	"leadline/ingest"
)

// PolygonArea is the area inside the closed outline through the points, in mm²
// (shoelace formula):
//
//	A = |Σ (x_i·y_{i+1} − x_{i+1}·y_i)| / 2 · |δx·δy|
//
// Outlines that cross or touch themselves are refused: the formula would subtract
// one part from the other. An outline without area is degenerate. A repeated
// first point is left out.
func (p Plane) PolygonArea(points []ingest.Point) (Quantity, error) {
	if !p.Lengths() {
		return Quantity{}, ErrAxes
	}
	points = ring(points)
	if len(points) < 3 {
		return Quantity{}, ErrPointCount
	}
	// Crossings are looked for in pixels: scaling the axes makes or undoes none.
	if err := crossings(merged(pixels(points))); err != nil {
		return Quantity{}, err
	}
	// Twice the area about the first point, which keeps digits when the outline
	// is small and far from the origin.
	places := p.all(points)
	origin, n := places[0], len(places)
	for i := range places {
		places[i] = places[i].minus(origin)
	}
	if p.Work != nil {
		p.Work.Points = points
		p.Work.outline(p, places)
	}
	twice := 0.0
	for i := range places {
		twice += places[i].cross(places[(i+1)%n])
	}
	if twice == 0 {
		return Quantity{}, ErrDegenerate
	}
	half := math.Copysign(0.5, twice)
	if p.Work != nil {
		p.Work.sum("S", MM2, twice, "product ")
		p.Work.value("area", MM2, twice*half, "abs(%v) / 2", twice)
	}
	partials := make([]vec, n)
	for i := range places {
		chord := places[(i+n-1)%n].minus(places[(i+1)%n])
		partials[i] = chord.turned().times(half)
	}
	return p.result(twice*half, MM2, points, partials)
}

func pixels(points []ingest.Point) []vec {
	out := make([]vec, len(points))
	for i, pt := range points {
		out[i] = at(pt)
	}
	return out
}

// EllipseArea is the area of an ellipse given by both ends of the major and of the
// minor axis, in mm²:
//
//	A = π/4 · |d1 × d2|
//
// with the diameters d1 and d2 in physical units. Where pixels are not square, an
// ellipse drawn in pixels is an ellipse in the body too, but its drawn axes are
// then conjugate diameters and no longer at right angles; the cross product is the
// area in both cases, and equals the product of the axes where they are.
func (p Plane) EllipseArea(points []ingest.Point) (Quantity, error) {
	a, b, err := p.semiDiameters(points)
	if err != nil {
		return Quantity{}, err
	}
	det := a.cross(b)
	sign := math.Copysign(math.Pi, det)
	if p.Work != nil {
		p.Work.value("area", MM2, det*sign, "pi * abs(%v)", det)
	}
	byA, byB := b.turned().times(-sign), a.turned().times(sign)
	return p.result(det*sign, MM2, points, endPartials(byA, byB))
}

// EllipsePerimeter is the circumference of an ellipse given as for EllipseArea, in
// mm, by Ramanujan's second approximation (Ramanujan 1914, Quart. J. Math. 45,
// 350–372; from memory) for semi-axes p and q:
//
//	C = π(p+q)·(1 + 3h/(10 + √(4−3h))),  h = ((p−q)/(p+q))²
//
// Against numerical integration its error is below 1e-9 of C up to an axis ratio of 2,
// 1e-6 up to 5 and 4.1e-4 at most. Only
// p² + q² = |a|² + |b|² and p·q = |a × b| enter (Apollonius' theorems on conjugate
// semi-diameters a, b), so it needs no search for the axes and stays smooth at the
// circle.
func (p Plane) EllipsePerimeter(points []ingest.Point) (Quantity, error) {
	a, b, err := p.semiDiameters(points)
	if err != nil {
		return Quantity{}, err
	}
	det := a.cross(b)
	sign := math.Copysign(1, det)
	f := a.squared() + b.squared()
	c, bySquares, byProduct := ramanujan(f, det*sign)
	if p.Work != nil {
		p.Work.value("f", MM2, f, "%v^2 + %v^2 + %v^2 + %v^2", a.x, a.y, b.x, b.y)
		p.Work.value("product of the axes g", MM2, det*sign, "abs(%v)", det)
		p.Work.circumference("circumference", MM, c, f, det*sign)
	}
	byA := a.times(2 * bySquares).plus(b.turned().times(-sign * byProduct))
	byB := b.times(2 * bySquares).plus(a.turned().times(sign * byProduct))
	return p.result(c, MM, points, endPartials(byA, byB))
}

// semiDiameters are half the vectors between the ends of both axes. An ellipse
// without area is refused.
func (p Plane) semiDiameters(points []ingest.Point) (a, b vec, err error) {
	if !p.Lengths() {
		return a, b, ErrAxes
	}
	if len(points) != 4 {
		return a, b, ErrPointCount
	}
	v := p.all(points)
	a, b = v[1].minus(v[0]).times(0.5), v[3].minus(v[2]).times(0.5)
	switch {
	case a.isZero() || b.isZero():
		return a, b, ErrDegenerate
	case a.cross(b) == 0:
		return a, b, ErrFlat
	}
	if p.Work != nil {
		p.Work.Points = points
		p.Work.halfDelta(p, 0, 1, "ax", "ay", a)
		p.Work.halfDelta(p, 2, 3, "bx", "by", b)
		p.Work.cross("cross product", MM2, a, b)
	}
	return a, b, nil
}

// endPartials spreads derivatives by the semi-diameters over the four ends.
func endPartials(byA, byB vec) []vec {
	a, b := byA.times(0.5), byB.times(0.5)
	return []vec{a.times(-1), a, b.times(-1), b}
}

// ramanujan is the circumference as a function of f = p²+q² and d = p·q, with its
// derivatives by both: p+q = √(f+2d) and h = (f−2d)/(f+2d).
func ramanujan(f, d float64) (c, byF, byD float64) {
	square := f + 2*d
	s, h := math.Sqrt(square), (f-2*d)/square
	root := math.Sqrt(4 - 3*h)
	g := 1 + 3*h/(10+root)
	slope := 3/(10+root) + 4.5*h/(root*(10+root)*(10+root))
	c = math.Pi * s * g
	// ∂s/∂f = 1/2s, ∂s/∂d = 1/s; ∂h/∂f = 4d/square², ∂h/∂d = −4f/square².
	byF = math.Pi * (g/(2*s) + s*slope*4*d/(square*square))
	byD = math.Pi * (g/s - s*slope*4*f/(square*square))
	return c, byF, byD
}
