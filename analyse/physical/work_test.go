package physical

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"leadline/analyse/physical/calculator"
)

// Every shape writes down steps that a calculator confirms, each from numbers that
// stand above it, and that end in the value and uncertainty that it returns.
func TestWork(t *testing.T) {
	for _, c := range slices.Concat(geometries, cavities, traces) {
		want, err := c.f(c.plane, c.points)
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		p := c.plane
		p.Work = &Work{}
		got, err := c.f(p, c.points)
		if err != nil || got != want {
			t.Errorf("%s: %v with its steps written down, %v without; %v", c.name, got, want, err)
		}
		t.Run(c.name, func(t *testing.T) { checkWork(t, p, got) })
	}
}

func checkWork(t *testing.T, p Plane, got Quantity) {
	known := []float64{p.X.Delta, p.Y.Delta, p.Y.Zero.Value.Pixel.Center(), p.Y.Zero.Value.Value}
	for _, pt := range p.Work.Points {
		known = append(known, pt.X, pt.Y)
	}
	for _, term := range p.Work.Terms {
		known = append(known, term.PerPixel)
	}
	var value, stdU Step
	for _, s := range p.Work.Steps {
		args, largest := make([]any, len(s.Args)), math.Abs(s.Value)
		for i, a := range s.Args {
			if !slices.Contains(known, a) {
				t.Errorf("%s: %v comes from nowhere", s.Name, a)
			}
			args[i], largest = fmt.Sprintf("(%.17g)", a), max(largest, math.Abs(a))
		}
		result, err := calculator.Evaluate(fmt.Sprintf(s.Formula, args...))
		if err != nil || math.Abs(result-s.Value) > 1e-9*largest {
			t.Errorf("%s: %s of %v is %v %v, not %v", s.Name, s.Formula, s.Args, result, err, s.Value)
		}
		known = append(known, s.Value)
		if s.Part == PartValue {
			value = s
		} else {
			stdU = s
		}
	}
	if value.Value != got.Value || value.Unit != got.Unit {
		t.Errorf("the last step gives %v %s, the value is %v", value.Value, value.Unit, got)
	}
	if stdU.Value != got.StdU || stdU.Unit != got.Unit {
		t.Errorf("the last step of the uncertainty gives %v %s, it is %v", stdU.Value, stdU.Unit, got)
	}
	if len(p.Work.Terms) != 2*len(p.Work.Points) || !strings.HasPrefix(p.Work.Terms[0].Name, "x1") {
		t.Errorf("%d terms for %d points", len(p.Work.Terms), len(p.Work.Points))
	}
}

// The sensitivities are the derivatives of the value: each coordinate moved a
// little either way.
func TestTermsAreDerivatives(t *testing.T) {
	for _, c := range slices.Concat(geometries, cavities, traces) {
		p := c.plane
		p.Work = &Work{}
		if _, err := c.f(p, c.points); err != nil {
			t.Fatal(err)
		}
		first := 0 // where the first point of the steps stands in the case
		if strings.HasPrefix(c.name, "discs") {
			first = 2 // the axis, which stands last in the steps
		}
		n := len(c.points)
		if !slices.Equal(p.Work.Points, slices.Concat(c.points[first:], c.points[:first])) || strings.Contains(c.name, "folds") {
			continue // points were left out or turned round
		}
		for k, term := range p.Work.Terms {
			const h = 1e-4
			at := func(by float64) float64 {
				moved := slices.Clone(c.points)
				if i := (k/2 + first) % n; k%2 == 0 {
					moved[i].X += by
				} else {
					moved[i].Y += by
				}
				q, err := c.f(c.plane, moved)
				if err != nil {
					return math.NaN()
				}
				return q.Value
			}
			slope := (at(h) - at(-h)) / (2 * h)
			if !math.IsNaN(slope) && math.Abs(slope-term.PerPixel) > 1e-5*math.Max(1, math.Abs(slope)) {
				t.Errorf("%s: %s has %v, moving it gives %v", c.name, term.Name, term.PerPixel, slope)
			}
		}
	}
}
