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
	return checked(Quantity{Value: k * q * q, StdU: 2 * k * q * p.radiusStdU(), Unit: MM2})
}

// CirclePerimeter is the circumference in mm, by the formula of EllipsePerimeter,
// which for square pixels is exactly 2π·r·δ.
func (p Plane) CirclePerimeter(centre, edge ingest.Point) (Quantity, error) {
	r, err := p.radius(centre, edge)
	if err != nil {
		return Quantity{}, err
	}
	dx, dy := math.Abs(p.X.Delta), math.Abs(p.Y.Delta)
	perPixel, _, _ := ramanujan(dx*dx+dy*dy, dx*dy)
	return checked(Quantity{Value: perPixel * r.length(), StdU: perPixel * p.radiusStdU(), Unit: MM})
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
	return checked(Quantity{Value: d * r.length(), StdU: d * p.radiusStdU(), Unit: MM})
}

// radiusStdU is the standard uncertainty of the radius in pixels: along the radius
// the coordinates of centre and edge add as two independent ones.
func (p Plane) radiusStdU() float64 { return math.Sqrt2 * p.pointStdU() }

func (p Plane) radius(centre, edge ingest.Point) (vec, error) {
	if !p.Lengths() {
		return vec{}, ErrAxes
	}
	r := at(edge).minus(at(centre))
	if r.isZero() {
		return vec{}, ErrDegenerate
	}
	return r, nil
}
