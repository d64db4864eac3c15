package rebuild

import (
	"math"
	"strings"
	"testing"

	"leadline/analyse"
	"leadline/analyse/physical"
	"leadline/ingest"
)

// ruled is the sample with this rule.
func ruled(rule analyse.UncertaintyRule) *analyse.Study {
	s := sample()
	s.Uncertainty = rule
	return s
}

// check-values.md, uncertainty rules: 135 pixels of 0.08 mm, a click of 1 pixel each
// way → 0.113 mm, a scale of 1 % → 0.108 mm, both 0.156 mm.
func TestPlacingErrorAndScale(t *testing.T) {
	picture := func(rule analyse.UncertaintyRule) *analyse.Study {
		s := ruled(rule)
		for _, img := range s.Images {
			if img.SOPInstanceUID == "colour" {
				for i := range img.Image.Regions {
					r := &img.Image.Regions[i]
					r.DeltaX, r.DeltaY = ingest.Some(0.008), ingest.Some(0.008)
				}
			}
		}
		return s
	}
	const measure = "lv-internal-diameter-diastole"
	click := map[string]float64{measure: 1}
	for _, c := range []struct {
		name string
		rule analyse.UncertaintyRule
		u    float64
		note string
	}{
		{"pixels alone", analyse.UncertaintyRule{}, 0.0327, ""},
		{"placing error", analyse.UncertaintyRule{Protocol: "unit", PlacementPX: click}, 0.113, "placing error of 1 pixels a coordinate, by protocol unit"},
		{"of another measure", analyse.UncertaintyRule{Protocol: "unit", PlacementPX: map[string]float64{"tapse": 1}}, 0.0327, ""},
		// A standard uncertainty of 1 % is a half-width of √3 %.
		{"both", analyse.UncertaintyRule{Protocol: "unit", PlacementPX: click, ScaleTolerance: 0.01 * math.Sqrt(3)}, 0.156, "calibration tolerance of protocol unit"},
	} {
		m := Measurements(picture(c.rule), []ingest.CaliperRow{row("colour", "line|210,140 318,221|10.8|mm|LVIDd")}, nil)[0]
		if m.Measure != measure || m.Rebuilt == nil || math.Abs(m.Rebuilt.Value-10.8) > 1e-9 || math.Abs(m.Rebuilt.StdU-c.u) > 5e-4 || !strings.Contains(m.Note, c.note) {
			t.Errorf("%s: %+v %q, want u %v", c.name, m.Rebuilt, m.Note, c.u)
		}
		if c.note == "" && m.Note != "" {
			t.Errorf("%s: note %q", c.name, m.Note)
		}
		if want := 0.05 + 2*m.Rebuilt.StdU; math.Abs(m.Tolerance.Value-want) > 1e-12 {
			t.Errorf("%s: tolerance %v, want %v: the verdict must know U", c.name, m.Tolerance.Value, want)
		}
	}
}

// The part of the scale in every quantity equals what the value does when the scale
// of its axes changes by that much: lengths together, time, velocity.
func TestScaleOfEveryQuantity(t *testing.T) {
	const off = 1e-6
	seen := map[analyse.QuantityKind]bool{}
	planes := []physical.Plane{
		{X: physical.Axis{Unit: physical.MM, Delta: 0.1}, Y: physical.Axis{Unit: physical.MM, Delta: 0.1, Zero: ingest.Some(physical.Zero{Pixel: 5})}},
		{X: physical.Axis{Unit: physical.S, Delta: 0.005}, Y: physical.Axis{Unit: physical.MM, Delta: 0.2, Zero: ingest.Some(physical.Zero{Pixel: 5})}},
		{X: physical.Axis{Unit: physical.S, Delta: 0.005}, Y: physical.Axis{Unit: physical.CMPerS, Delta: -0.5, Zero: ingest.Some(physical.Zero{Pixel: 200})}},
	}
	shapes := map[ingest.Geometry]string{
		ingest.GeometryPoint: "20,30", ingest.GeometryLine: "20,30 80,110", ingest.GeometryCircle: "50,50 80,90",
		ingest.GeometryPolyline: "20,200.5 60,40 110,200.5", ingest.GeometryPolygon: "20,200.5 60,40 110,200.5",
		ingest.GeometryEllipse: "10,50 110,50 60,20 60,80", ingest.GeometryDiscs: "20,60 120,60 20,20 120,30 120,90 20,100",
	}
	for i := range formulas {
		f := &formulas[i]
		if f.compute == nil {
			continue
		}
		for _, plane := range planes {
			if !f.fits(plane) {
				continue
			}
			seen[f.quantity] = true
			pts := points(shapes[f.geometry])
			q, err := f.compute(plane, pts)
			if err != nil {
				t.Fatalf("%s %s: %v", f.geometry, f.quantity, err)
			}
			_, part := withScale(q, f.quantity, &analyse.UncertaintyRule{ScaleTolerance: off * math.Sqrt(3)}, nil)
			for unit, want := range map[physical.Unit]float64{physical.MM: part.Length, physical.S: part.Time, physical.CMPerS: part.Velocity} {
				moved := plane
				for _, axis := range []*physical.Axis{&moved.X, &moved.Y} {
					if axis.Unit == unit {
						axis.Delta *= 1 + off
					}
				}
				got, _ := f.compute(moved, pts)
				if math.Abs(got.Value-q.Value-want) > 1e-3*off*math.Abs(q.Value) {
					t.Errorf("%s %s: scale of %s moves it by %v, want %v", f.geometry, f.quantity, unit, got.Value-q.Value, want)
				}
			}
		}
	}
	for kind := range powersOf {
		if !seen[kind] {
			t.Errorf("%s: no formula was tried", kind)
		}
	}
}
