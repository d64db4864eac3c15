package physical

import (
	"math"

	"leadline/ingest"
)

const degreesPerRadian = 180 / math.Pi

// Angle is the angle at vertex between the rays to a and b, 0 to 180 degrees, in
// the body: axes are scaled first. A ray of no length is degenerate. Near 0 and
// 180 degrees the angle folds and the linear model of uncertainty does not hold;
// nor does it where a ray is short against a pixel.
func (p Plane) Angle(a, vertex, b ingest.Point) (Quantity, error) {
	if !p.Lengths() {
		return Quantity{}, ErrAxes
	}
	v := p.at(vertex)
	u, w := p.at(a).minus(v), p.at(b).minus(v)
	if u.isZero() || w.isZero() {
		return Quantity{}, ErrDegenerate
	}
	cross := u.cross(w)
	sign := math.Copysign(degreesPerRadian, cross)
	byU, byW := bearing(u).times(-sign), bearing(w).times(sign)
	value := math.Atan2(math.Abs(cross), u.dot(w)) * degreesPerRadian
	if p.Work != nil {
		p.Work.Points = []ingest.Point{a, vertex, b}
		p.Work.delta(p, 1, 0, "ux", "uy", u)
		p.Work.delta(p, 1, 2, "wx", "wy", w)
		p.Work.angle("atan2(abs(%v), %v) * 180 / pi", u, w, value)
	}
	return p.result(value, Deg, []ingest.Point{a, vertex, b}, []vec{byU, byU.plus(byW).times(-1), byW})
}

// AngleBetween is the angle between the lines a–b and c–d, 0 to 90 degrees: which
// end of a line was set first carries no meaning, so the smaller angle is taken.
// Near 0 and 90 degrees it folds and the linear model does not hold.
func (p Plane) AngleBetween(a, b, c, d ingest.Point) (Quantity, error) {
	if !p.Lengths() {
		return Quantity{}, ErrAxes
	}
	u, w := p.at(b).minus(p.at(a)), p.at(d).minus(p.at(c))
	if u.isZero() || w.isZero() {
		return Quantity{}, ErrDegenerate
	}
	cross, dot := u.cross(w), u.dot(w)
	sign := math.Copysign(degreesPerRadian, cross) * math.Copysign(1, dot)
	byU, byW := bearing(u).times(-sign), bearing(w).times(sign)
	value := math.Atan2(math.Abs(cross), math.Abs(dot)) * degreesPerRadian
	if p.Work != nil {
		p.Work.Points = []ingest.Point{a, b, c, d}
		p.Work.delta(p, 0, 1, "ux", "uy", u)
		p.Work.delta(p, 2, 3, "wx", "wy", w)
		p.Work.angle("atan2(abs(%v), abs(%v)) * 180 / pi", u, w, value)
	}
	return p.result(value, Deg, []ingest.Point{a, b, c, d}, []vec{byU.times(-1), byU, byW.times(-1), byW})
}

// bearing is the derivative of the direction of v, in radians, by its end.
func bearing(v vec) vec { return v.turned().over(v.squared()) }
