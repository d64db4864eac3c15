package physical

import (
	"fmt"
	"strings"

	"leadline/ingest"
)

// What each shape writes into its Work. Numbers are handed over by the functions
// that compute; only their order in the formula is said here.

func pointsOf(places []vec) []ingest.Point {
	points := make([]ingest.Point, len(places))
	for i, v := range places {
		points[i] = ingest.Point{X: v.x, Y: v.y}
	}
	return points
}

// sum records the sum of the steps whose names begin with prefix.
func (w *Work) sum(name string, unit Unit, value float64, prefix string) {
	var parts []float64
	for _, s := range w.Steps {
		if strings.HasPrefix(s.Name, prefix) {
			parts = append(parts, s.Value)
		}
	}
	w.value(name, unit, value, Plus(len(parts), "%v"), parts...)
}

// piece records one straight piece of a path, in one line where there are several.
func (w *Work) piece(p Plane, i, j int, alone bool, step vec, length float64) {
	if alone {
		w.delta(p, i, j, "dx", "dy", step)
		w.value("distance", MM, length, "sqrt(%v^2 + %v^2)", step.x, step.y)
		return
	}
	a, b := w.Points[i], w.Points[j]
	w.value(fmt.Sprintf("piece P%d-P%d", i+1, j+1), MM, length, "sqrt(((%v - %v) * %v)^2 + ((%v - %v) * %v)^2)",
		b.X, a.X, p.X.Delta, b.Y, a.Y, p.Y.Delta)
}

func (w *Work) angle(formula string, u, v vec, value float64) {
	w.cross("cross product", MM2, u, v)
	w.value("dot product", MM2, u.dot(v), "%v * %v + %v * %v", u.x, v.x, u.y, v.y)
	w.value("angle", Deg, value, formula, u.cross(v), u.dot(v))
}

// outline records the places of an outline about its first point and the products
// of the shoelace formula. Those with the first point are zero and left out.
func (w *Work) outline(p Plane, places []vec) {
	for i := 1; i < len(places); i++ {
		w.delta(p, 0, i, fmt.Sprintf("X%d", i+1), fmt.Sprintf("Y%d", i+1), places[i])
	}
	for i := 1; i+1 < len(places); i++ {
		w.cross(fmt.Sprintf("product %d-%d", i+1, i+2), MM2, places[i], places[i+1])
	}
}

// circumference records Ramanujan's formula of f = p² + q² and g = p·q.
func (w *Work) circumference(name string, unit Unit, value, f, g float64) {
	h := (f - 2*g) / (f + 2*g)
	w.value("h", One, h, "(%v - 2 * %v) / (%v + 2 * %v)", f, g, f, g)
	w.value(name, unit, value, "pi * sqrt(%v + 2 * %v) * (1 + 3 * %v / (10 + sqrt(4 - 3 * %v)))", f, g, h, h)
}

func (w *Work) rate(name string, unit Unit, value, rise, dt, per float64) {
	if per == 1 {
		w.value(name, unit, value, "%v / %v", rise, dt)
		return
	}
	w.value(name, unit, value, fmt.Sprintf("%%v / %%v / %g", per), rise, dt)
}

// at records the value at a coordinate of an axis that has a zero.
func (w *Work) at(name string, axis Axis, c, value float64) {
	zero := axis.Zero.Value
	if zero.Value == 0 {
		w.value(name, axis.Unit, value, "(%v - %v) * %v", c, zero.Pixel.Center(), axis.Delta)
		return
	}
	w.value(name, axis.Unit, value, "%v + (%v - %v) * %v", zero.Value, c, zero.Pixel.Center(), axis.Delta)
}

// explainPlaces records the times and velocities of the points.
func (e Envelope) explainPlaces() {
	w := e.plane.Work
	w.Points = e.pixels
	for i, place := range e.at {
		w.value(fmt.Sprintf("t%d", i+1), S, place.x, "%v * %v", e.pixels[i].X, e.plane.X.Delta)
		w.at(fmt.Sprintf("v%d", i+1), e.plane.Y, e.pixels[i].Y, place.y)
	}
}

// explainPiece records what the piece that ends at point i adds.
func (e Envelope) explainPiece(i int, unit Unit, value float64, mean piece) {
	p, q := e.at[i-1], e.at[i]
	e.plane.Work.value(fmt.Sprintf("piece P%d-P%d", i, i+1), unit, value, mean.formula+" * (%v - %v)",
		append(mean.args(p.y, q.y), q.x, p.x)...)
}

// long records the places of a cavity, in mm from its first point, and its axis.
func (w *Work) long(p Plane, axis, from vec) {
	for i := range w.Points {
		at := p.at(w.Points[i])
		w.value(fmt.Sprintf("X%d", w.before+i+1), MM, at.x, "%v * %v", w.Points[i].X, p.X.Delta)
		w.value(fmt.Sprintf("Y%d", w.before+i+1), MM, at.y, "%v * %v", w.Points[i].Y, p.Y.Delta)
	}
	to := from.plus(axis)
	length := axis.length()
	w.value("axis length", MM, length, "sqrt((%v - %v)^2 + (%v - %v)^2)", to.x, from.x, to.y, from.y)
	w.value("ux along the axis", One, axis.over(length).x, "(%v - %v) / %v", to.x, from.x, length)
	w.value("uy along the axis", One, axis.over(length).y, "(%v - %v) / %v", to.y, from.y, length)
}

// disc records how one disc meets the contour.
type disc struct {
	work   *Work
	number int
}

// meeting records where the edge from point i to point j is met: s of its length
// from p, h across the axis from its place c.
func (d disc) meeting(i, j int, p, q, c, u vec, before, after, s, h float64) {
	if d.work == nil {
		return
	}
	name := fmt.Sprintf("disc %d, edge P%d-P%d: ", d.number, d.work.before+i+1, d.work.before+j+1)
	along := "(%v - %v) * %v + (%v - %v) * %v"
	d.work.value(name+"along, first end", MM, before, along, p.x, c.x, u.x, p.y, c.y, u.y)
	d.work.value(name+"along, second end", MM, after, along, q.x, c.x, u.x, q.y, c.y, u.y)
	d.work.value(name+"s", One, s, "%v / (%v - %v)", before, before, after)
	d.work.value(name+"across", MM, h, "(%v + %v * (%v - %v) - %v) * %v - (%v + %v * (%v - %v) - %v) * %v",
		p.y, s, q.y, p.y, c.y, u.x, p.x, s, q.x, p.x, c.x, u.y)
}

// place records where on the axis the disc is.
func (d disc) place(a, b, c vec) {
	if d.work == nil {
		return
	}
	formula := fmt.Sprintf("%%v + (%%v - %%v) * (%d - 0.5) / %d", d.number, Discs)
	d.work.value(fmt.Sprintf("disc %d: place x", d.number), MM, c.x, formula, a.x, b.x, a.x)
	d.work.value(fmt.Sprintf("disc %d: place y", d.number), MM, c.y, formula, a.y, b.y, a.y)
}

func (d disc) diameter(high, low float64) {
	if d.work != nil {
		d.work.value(fmt.Sprintf("disc %d: diameter", d.number), MM, high-low, "%v - %v", high, low)
	}
}
