package physical

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"leadline/ingest"
)

// Work records how one value came about, for a reader who checks it by hand. A
// Plane that carries one has it filled by the functions that compute: what stands
// in it is what they used. It is made for a single value and asked for by name;
// an audit carries none.
type Work struct {
	// Points are the pixel coordinates that entered, numbered from 1 in the names of
	// the steps. Points that count for nothing (repeated ones, the way back along a
	// baseline) are not among them.
	Points []ingest.Point
	Steps  []Step
	// Terms are the sensitivities of the value to the coordinates.
	Terms []Term
	// plane is said before the name of every step, and before counts the points of
	// the plane before this one, where there are two.
	plane  string
	before int
}

// Part is what a step belongs to.
type Part string

// The parts of the work, in their order.
const (
	PartScale       Part = "scale"
	PartValue       Part = "value"
	PartUncertainty Part = "uncertainty"
	PartComparison  Part = "comparison"
)

// Step is one line of arithmetic: Formula, with each %v replaced by the next of
// Args, gives Value. A formula is written with + - * / ^ and parentheses, sqrt,
// abs, atan2 (in radians) and pi. Each argument is a coordinate of a point, the
// value of an earlier step, or a number from the header.
type Step struct {
	Part          Part
	Name, Formula string
	Args          []float64
	Value         float64
	Unit          Unit
}

// Term is the derivative of the value by one coordinate in pixels, and what that
// coordinate adds to the standard uncertainty.
type Term struct {
	// Name is the coordinate: x1 is that of the first point.
	Name     string
	PerPixel float64
	StdU     float64
}

// perPixel is the unit of a scale.
func perPixel(u Unit) Unit { return u + "/px" }

// PX is the unit of coordinates.
const PX Unit = "px"

// Add records a step.
func (w *Work) Add(part Part, name string, unit Unit, value float64, formula string, args ...float64) {
	w.Steps = append(w.Steps, Step{Part: part, Name: w.plane + name, Formula: formula, Args: args, Value: value, Unit: unit})
}

func (w *Work) value(name string, unit Unit, value float64, formula string, args ...float64) {
	w.Add(PartValue, name, unit, value, formula, args...)
}

// Plus is the formula of a sum of n arguments, each written as term.
func Plus(n int, term string) string {
	return strings.TrimSuffix(strings.Repeat(term+" + ", n), " + ")
}

// DropUnused leaves out the steps of a part that no other step goes on from.
func (w *Work) DropUnused(part Part) {
	used := map[float64]bool{}
	for _, s := range w.Steps {
		for _, a := range s.Args {
			used[a] = used[a] || s.Part != part
		}
	}
	w.Steps = slices.DeleteFunc(w.Steps, func(s Step) bool { return s.Part == part && !used[s.Value] })
}

// delta records the vector from point i to point j (from 0), in physical units.
func (w *Work) delta(p Plane, i, j int, nameX, nameY string, d vec) {
	a, b := w.Points[i], w.Points[j]
	w.value(nameX, p.X.Unit, d.x, "(%v - %v) * %v", b.X, a.X, p.X.Delta)
	w.value(nameY, p.Y.Unit, d.y, "(%v - %v) * %v", b.Y, a.Y, p.Y.Delta)
}

// halfDelta is delta of half the vector.
func (w *Work) halfDelta(p Plane, i, j int, nameX, nameY string, d vec) {
	a, b := w.Points[i], w.Points[j]
	w.value(nameX, p.X.Unit, d.x, "(%v - %v) * %v / 2", b.X, a.X, p.X.Delta)
	w.value(nameY, p.Y.Unit, d.y, "(%v - %v) * %v / 2", b.Y, a.Y, p.Y.Delta)
}

// cross records x_a·y_b − y_a·x_b.
func (w *Work) cross(name string, unit Unit, a, b vec) {
	w.value(name, unit, a.cross(b), "%v * %v - %v * %v", a.x, b.y, a.y, b.x)
}

// spread records how the uncertainty of the coordinates became that of the value.
func (w *Work) spread(p Plane, stdU float64, unit Unit, sensitivities []vec) {
	one := p.pointStdU()
	if p.PointStdU > 0 {
		w.Add(PartUncertainty, "u of one coordinate, by the protocol", PX, one, "%v", p.PointStdU)
	} else {
		w.Add(PartUncertainty, "u of one coordinate, half a pixel either way", PX, one, "0.5 / sqrt(3)")
	}
	var used []float64
	for i, c := range sensitivities {
		for _, t := range []Term{{Name: fmt.Sprintf("x%d", w.before+i+1), PerPixel: c.x}, {Name: fmt.Sprintf("y%d", w.before+i+1), PerPixel: c.y}} {
			t.StdU = math.Abs(t.PerPixel) * one
			w.Terms = append(w.Terms, t)
			if t.PerPixel != 0 {
				used = append(used, t.PerPixel)
			}
		}
	}
	if len(used) == 0 {
		w.Add(PartUncertainty, "u of the points", unit, stdU, "0")
		return
	}
	w.Add(PartUncertainty, "u of the points", unit, stdU, "%v * sqrt("+Plus(len(used), "%v^2")+")", append([]float64{one}, used...)...)
}

// ScaleStep records the step of an axis in the unit used inside, from the step and
// the unit code of the file.
func (w *Work) ScaleStep(name string, axis Axis, delta float64, unitCode uint16) {
	if factor := axisUnits[unitCode].Factor; factor != 1 {
		w.Add(PartScale, name, perPixel(axis.Unit), axis.Delta, "%v * %v", delta, factor)
		return
	}
	w.Add(PartScale, name, perPixel(axis.Unit), axis.Delta, "%v", delta)
}

// SpacingStep is ScaleStep for Pixel Spacing, which is in mm.
func (w *Work) SpacingStep(name string, axis Axis, spacing float64) {
	w.Add(PartScale, name, perPixel(axis.Unit), axis.Delta, "%v", spacing)
}

// ZeroStep records where the zero of an axis is: the coordinate of the centre of
// the reference pixel.
func (w *Work) ZeroStep(name string, z Zero, low, ref ingest.Index) {
	w.Add(PartScale, name, PX, z.Pixel.Center(), "%v + %v + 0.5", float64(low), float64(ref))
}
