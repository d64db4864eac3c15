package rebuild

import (
	"cmp"

	"leadline/analyse"
	"leadline/analyse/measures"
	"leadline/analyse/physical"
	"leadline/ingest"
)

// Explain goes through the measurements of a study as Measurements does, with the
// same numbers, and hands each over with the steps that led to its value and its
// verdict. work is nil where nothing was rebuilt. Nothing of it is kept: a study of
// any size is explained in the memory of one measurement.
func Explain(study *analyse.Study, calipers []ingest.CaliperRow, words *measures.Catalogue, each func(m *analyse.Measurement, work *physical.Work)) {
	walk(study, calipers, words, true, func(m analyse.Measurement, o *outcome) {
		if o == nil {
			each(&m, nil)
			return
		}
		each(&m, o.work)
	})
}

// explained is a plane that writes the steps of a formula down, beginning with the
// scale that it uses.
func (s scale) explained(f *formula) physical.Plane {
	plane := s.plane
	w := cmp.Or(plane.Work, &physical.Work{})
	plane.Work = w
	if s.region == nil {
		// Pixel Spacing, which is a plane of lengths.
		w.SpacingStep("sx, from Pixel Spacing", plane.X, plane.X.Delta)
		w.SpacingStep("sy, from Pixel Spacing", plane.Y, plane.Y.Delta)
		return plane
	}
	raw := s.region.Raw
	if f.x != "" {
		w.ScaleStep("sx, from Physical Delta X in "+s.region.UnitsX, plane.X, raw.DeltaX.Value, raw.UnitsX.Value)
	}
	if f.y != "" {
		w.ScaleStep("sy, from Physical Delta Y in "+s.region.UnitsY, plane.Y, raw.DeltaY.Value, raw.UnitsY.Value)
	}
	if zero, ok := plane.Y.Zero.Get(); ok && f.absolute {
		w.ZeroStep("y0, centre of the reference pixel", zero, raw.MinY0.Value, raw.RefY0.Value)
		if zero.Value != 0 {
			w.ScaleStep("value there in "+s.region.UnitsY, physical.Axis{Unit: plane.Y.Unit, Delta: zero.Value}, raw.RefValueY.Value, raw.UnitsY.Value)
		}
	}
	return plane
}

// explainScale writes down what an error of the scale adds, where the protocol
// gives one, and the expanded uncertainty.
func explainScale(w *physical.Work, q, points physical.Quantity, rule *analyse.UncertaintyRule, part analyse.ScaleU, p powers) {
	add := func(name string, unit physical.Unit, value float64, formula string, args ...float64) {
		w.Add(physical.PartUncertainty, name, unit, value, formula, args...)
	}
	if relativeU := rule.ScaleRelativeU(); relativeU > 0 {
		add("relative u of the scale", physical.One, relativeU, "%v / sqrt(3)", rule.ScaleTolerance)
		args := []float64{points.StdU}
		for _, of := range []struct {
			name         string
			power, value float64
		}{{"length", p.length, part.Length}, {"time", p.time, part.Time}, {"velocity", p.velocity, part.Velocity}} {
			if of.power != 0 {
				add("u of the scale of "+of.name, q.Unit, of.value, "%v * %v * %v", of.power, q.Value, relativeU)
				args = append(args, of.value)
			}
		}
		add("u", q.Unit, q.StdU, "sqrt("+physical.Plus(len(args), "%v^2")+")", args...)
	}
	add("U (k=2)", q.Unit, q.ExpandedU(), "2 * %v", q.StdU)
}

// comparison is what judge compared, in the unit of the rebuilt value.
type comparison struct {
	reported, rebuilt, difference, half, tolerance float64
}

// explainComparison writes down how reported and rebuilt value were compared.
func explainComparison(w *physical.Work, m *analyse.Measurement, want want, c comparison) {
	if w == nil {
		return
	}
	unit := m.Rebuilt.Unit
	add := func(name string, value float64, formula string, args ...float64) {
		w.Add(physical.PartComparison, name, unit, value, formula, args...)
	}
	if c.rebuilt != m.Rebuilt.Value {
		add("rebuilt, without sign", c.rebuilt, "abs(%v)", m.Rebuilt.Value)
	}
	switch {
	case m.Reported.Value*want.factor != c.reported:
		add("reported, without sign", c.reported, "abs(%v * %v)", m.Reported.Value, want.factor)
	case want.factor != 1:
		add("reported", c.reported, "%v * %v", m.Reported.Value, want.factor)
	default:
		add("reported", c.reported, "%v", m.Reported.Value)
	}
	add("difference", c.difference, "%v - %v", c.reported, c.rebuilt)
	if place, ok := physical.LastPlace(m.Reported.Text); ok {
		formula, args := "%v / 2", []float64{place}
		if want.factor != 1 {
			formula, args = "%v / 2 * %v", append(args, want.factor)
		}
		add("half a unit of the last place", c.half, formula, args...)
	} else {
		add("half a unit of the last place, not known", c.half, "0")
	}
	add("tolerance", c.tolerance, "%v + %v", c.half, m.Rebuilt.ExpandedU())
}
