package physical

import (
	"math"

	"leadline/ingest"
)

// A circle is drawn in pixels (PS3.3 C.18.6.1.2 gives centre and perimeter point
// as column and row): with radius r pixels it is, in the body, an ellipse with the
// semi-axes r·δx and r·δy. Where pixels are square it is a circle.

// CircleArea is π·r²·|δx·δy| in mm², r in pixels from centre to edge.
func (p Plane) CircleArea(centre, edge ingest.Point) (Quantity, error) {
	r, err := p.radius(centre, edge)
	if err != nil {
		return Quantity{}, err
	}
	k := math.Pi * math.Abs(p.X.Delta*p.Y.Delta)
	q := r.length()
	if p.Work != nil {
		p.Work.value("area", MM2, k*q*q, "pi * %v^2 * abs(%v * %v)", q, p.X.Delta, p.Y.Delta)
	}
	return p.onRadius(k*q*q, MM2, []ingest.Point{centre, edge}, r, 2*k*q)
}

// CirclePerimeter is the circumference in mm, by the formula of EllipsePerimeter,
// which for square pixels is exactly 2π·r·δ.
func (p Plane) CirclePerimeter(centre, edge ingest.Point) (Quantity, error) {
	r, err := p.radius(centre, edge)
	if err != nil {
		return Quantity{}, err
	}
	dx, dy := math.Abs(p.X.Delta), math.Abs(p.Y.Delta)
	f, g := dx*dx+dy*dy, dx*dy
	each, _, _ := ramanujan(f, g)
	if p.Work != nil {
		p.Work.value("f", "mm2/px2", f, "%v^2 + %v^2", p.X.Delta, p.Y.Delta)
		p.Work.value("g", "mm2/px2", g, "abs(%v * %v)", p.X.Delta, p.Y.Delta)
		p.Work.circumference("circumference at r = 1", perPixel(MM), each, f, g)
		p.Work.value("circumference", MM, each*r.length(), "%v * %v", each, r.length())
	}
	return p.onRadius(each*r.length(), MM, []ingest.Point{centre, edge}, r, each)
}

// CircleDiameter is 2·r·δ in mm. Where pixels are not square there is no single
// diameter, and it is refused as ErrAxes.
func (p Plane) CircleDiameter(centre, edge ingest.Point) (Quantity, error) {
	r, err := p.radius(centre, edge)
	if err != nil {
		return Quantity{}, err
	}
	if !p.X.SameScale(p.Y) {
		return Quantity{}, ErrAxes
	}
	d := 2 * math.Abs(p.X.Delta)
	if p.Work != nil {
		p.Work.value("diameter", MM, d*r.length(), "2 * %v * abs(%v)", r.length(), p.X.Delta)
	}
	return p.onRadius(d*r.length(), MM, []ingest.Point{centre, edge}, r, d)
}

// onRadius is a value whose derivative by the radius in pixels is slope: centre and
// edge move it along the radius only, with opposite signs.
func (p Plane) onRadius(value float64, unit Unit, ends []ingest.Point, r vec, slope float64) (Quantity, error) {
	byEdge := r.times(slope / r.length())
	return p.perPixel(value, unit, ends, byEdge.times(-1), byEdge)
}

func (p Plane) radius(centre, edge ingest.Point) (vec, error) {
	if !p.Lengths() {
		return vec{}, ErrAxes
	}
	r := at(edge).minus(at(centre))
	if r.isZero() {
		return vec{}, ErrDegenerate
	}
	if p.Work != nil {
		p.Work.Points = []ingest.Point{centre, edge}
		p.Work.value("r", PX, r.length(), "sqrt((%v - %v)^2 + (%v - %v)^2)", edge.X, centre.X, edge.Y, centre.Y)
	}
	return r, nil
}
