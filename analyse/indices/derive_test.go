package indices

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"leadline/analyse"
	"leadline/analyse/physical"
	"leadline/ingest"
)

// rebuilt is a measurement with a rebuilt value.
func rebuilt(measure string, value, u float64, unit physical.Unit) analyse.Measurement {
	return analyse.Measurement{Measure: measure, Rebuilt: &physical.Quantity{Value: value, StdU: u, Unit: unit}, Verdict: analyse.VerdictRebuiltOnly}
}

func reported(measure, text, unit string) analyse.Measurement {
	var v float64
	fmt.Sscan(text, &v)
	return analyse.Measurement{Measure: measure, Reported: &analyse.Reported{Value: v, Text: text, Unit: unit}, Verdict: analyse.VerdictReportedOnly}
}

func with(m analyse.Measurement, change func(*analyse.Measurement)) analyse.Measurement {
	change(&m)
	return m
}

// study numbers the measurements and gives each caliper a place of its own.
func study(list ...analyse.Measurement) *analyse.Study {
	s := &analyse.Study{Patient: &ingest.Patient{}, Measurements: list}
	for i := range list {
		list[i].Number = i + 1
		if list[i].Points == nil {
			list[i].Points = []ingest.Point{{X: float64(i)}}
		}
	}
	return s
}

func find(t *testing.T, s *analyse.Study, id string) *analyse.Index {
	t.Helper()
	for _, x := range Derive(s) {
		if x.ID == id {
			return &x
		}
	}
	return nil
}

const (
	dd = "lv-internal-diameter-diastole"
	ds = "lv-internal-diameter-systole"
)

func TestDerive(t *testing.T) {
	s := study(rebuilt(dd, 18, 0.2, physical.MM), rebuilt(ds, 12, 0.2, physical.MM))
	x := find(t, s, "fractional-shortening")
	// 100·6/18; u = 100/18·√(0.2² + (12/18·0.2)²) = 1.335.
	if x == nil || x.Value == nil || math.Abs(x.Value.Value-100.0/3) > 1e-12 || math.Abs(x.Value.StdU-1.3354) > 1e-4 || x.Value.Unit != physical.Percent {
		t.Fatalf("%+v", x)
	}
	if strings.Join(x.Inputs, "; ") != "measurement 1 ("+dd+"); measurement 2 ("+ds+")" || x.Formula == "" || x.Reference == "" {
		t.Errorf("%+v", x)
	}
	// And Teichholz (three volumes, ejection fraction) and the cube: nothing else was measured.
	if len(Derive(s)) != 6 {
		t.Errorf("%d indices", len(Derive(s)))
	}
	if len(Derive(study())) != 0 || len(Derive(study(rebuilt("heart-rate", 140, 1, physical.PerMin)))) != 0 {
		t.Error("rows for what nothing was measured of")
	}
}

// TestAssumed: what nobody measured is not said to stand in a header.
func TestAssumed(t *testing.T) {
	x := find(t, study(rebuilt("tricuspid-regurgitation-peak-velocity", 250, 1, physical.CMPerS)), "rv-systolic-pressure")
	want := []string{"measurement 1 (tricuspid-regurgitation-peak-velocity)", "assumed, not measured (RAP)"}
	if !slices.Equal(x.Inputs, want) {
		t.Errorf("inputs %q, want %q", x.Inputs, want)
	}
}

func TestAbsent(t *testing.T) {
	suspect := with(rebuilt(ds, 12, 0.2, physical.MM), func(m *analyse.Measurement) { m.Verdict = analyse.VerdictSuspect })
	for _, c := range []struct {
		name, note string
		second     analyse.Measurement
	}{
		{"missing", "Left ventricular internal diameter, systole was not measured", rebuilt("tapse", 6, 0.1, physical.MM)},
		{"suspect", "no usable value (measurement 2: suspect)", suspect},
		{"unit does not fit", "no usable value", reported(ds, "12", "s")},
		{"not rebuilt", "no usable value (measurement 2: not-rebuilt)", analyse.Measurement{Measure: ds, Verdict: analyse.VerdictNotRebuilt}},
	} {
		x := find(t, study(rebuilt(dd, 18, 0.2, physical.MM), c.second), "fractional-shortening")
		if x == nil || x.Value != nil || !strings.Contains(x.Note, c.note) {
			t.Errorf("%s: %+v", c.name, x)
		}
	}
	x := find(t, study(rebuilt("aca-peak-systolic-velocity", 30, 1, physical.CMPerS), rebuilt("aca-end-diastolic-velocity", -3, 1, physical.CMPerS)), "systolic-diastolic-ratio-aca")
	if x == nil || x.Value != nil || !strings.Contains(x.Note, "reversed") {
		t.Errorf("reversed: %+v", x)
	}
}

func TestRepeats(t *testing.T) {
	chosen := func(m *analyse.Measurement) { m.Selected = true }
	for _, c := range []struct {
		name  string
		dd    []analyse.Measurement
		want  float64 // the diastolic diameter that must have been used
		wantU float64
	}{
		// Mean of two, u = √(0.2² + 0.2²)/2.
		{"mean of all", []analyse.Measurement{rebuilt(dd, 17, 0.2, physical.MM), rebuilt(dd, 19, 0.2, physical.MM)}, 18, 0.2 / math.Sqrt2},
		{"selected", []analyse.Measurement{rebuilt(dd, 17, 0.2, physical.MM), with(rebuilt(dd, 20, 0.1, physical.MM), chosen)}, 20, 0.1},
		{"rebuilt before reported", []analyse.Measurement{rebuilt(dd, 17, 0.2, physical.MM), reported(dd, "25", "mm")}, 17, 0.2},
		// 1.80 cm: half a last place 0.05 mm, rectangular.
		{"reported where nothing is rebuilt", []analyse.Measurement{reported(dd, "1.80", "cm")}, 18, 0.05 / math.Sqrt(3)},
		{"one caliper stored twice", []analyse.Measurement{
			with(rebuilt(dd, 17, 0.2, physical.MM), func(m *analyse.Measurement) { m.Points = []ingest.Point{{X: 9}} }),
			with(rebuilt(dd, 17, 0.2, physical.MM), func(m *analyse.Measurement) { m.Points = []ingest.Point{{X: 9}} })}, 17, 0.2},
	} {
		x := find(t, study(append(c.dd, rebuilt(ds, 12, 0, physical.MM))...), "fractional-shortening")
		want, wantU := 100*(c.want-12)/c.want, 1200/(c.want*c.want)*c.wantU
		if x == nil || x.Value == nil || math.Abs(x.Value.Value-want) > 1e-9 || math.Abs(x.Value.StdU-wantU) > 1e-9 {
			t.Errorf("%s: %+v %+v, want %v ± %v", c.name, x, x.Value, want, wantU)
		}
	}
	x := find(t, study(reported(dd, "1.80", "cm"), rebuilt(ds, 12, 0, physical.MM)), "fractional-shortening")
	if !strings.Contains(x.Note, "reported value") {
		t.Errorf("note %q", x.Note)
	}
}

func TestSides(t *testing.T) {
	side := func(m analyse.Measurement, s string) analyse.Measurement { m.Side = s; return m }
	psv := func(v float64, s string) analyse.Measurement {
		return side(rebuilt("renal-peak-systolic-velocity", v, 1, physical.CMPerS), s)
	}
	edv := func(v float64, s string) analyse.Measurement {
		return side(rebuilt("renal-end-diastolic-velocity", v, 1, physical.CMPerS), s)
	}
	s := study(psv(40, "left"), edv(10, "left"), psv(50, "right"), edv(5, "right"))
	left, right, none := find(t, s, "resistive-index-renal-left"), find(t, s, "resistive-index-renal-right"), find(t, s, "resistive-index-renal")
	if left == nil || left.Value.Value != 0.75 || right == nil || right.Value.Value != 0.9 || none != nil {
		t.Errorf("left %+v right %+v none %+v", left, right, none)
	}
	// Velocities of two sides are never one index.
	s = study(psv(40, "left"), edv(10, "right"))
	if x := find(t, s, "resistive-index-renal-left"); x == nil || x.Value != nil {
		t.Errorf("mixed sides: %+v", x)
	}
	s = study(psv(40, ""), edv(10, ""))
	if x := find(t, s, "resistive-index-renal"); x == nil || x.Value == nil || x.Value.Value != 0.75 {
		t.Errorf("no side: %+v", x)
	}
}

func TestOutput(t *testing.T) {
	list := []analyse.Measurement{
		rebuilt("lv-outflow-diameter", 7, 0.2, physical.MM), reported("lv-outflow-vti", "10.0", "cm"), rebuilt("r-r-interval", 60.0/140, 0.004, physical.S),
	}
	s := study(list...)
	if x := find(t, s, "lv-output-per-kg"); x == nil || x.Value != nil || !strings.Contains(x.Note, "no weight") {
		t.Errorf("without weight: %+v", x)
	}
	s.Patient.WeightKg = ingest.Some(3200.0)
	if x := find(t, s, "lv-output-per-kg"); x == nil || x.Value != nil || !strings.Contains(x.Note, "cannot be a newborn's") {
		t.Errorf("weight in grams: %+v", x)
	}
	s.Patient.WeightKg = ingest.Some(3.2)
	x := find(t, s, "lv-output-per-kg")
	// check-values.md row 12: 168.4 mL/min/kg.
	if x == nil || x.Value == nil || math.Abs(x.Value.Value-168.4) > 0.05 || x.Value.Unit != physical.MLPerMinPerKg {
		t.Fatalf("%+v", x)
	}
	// Relative: 2·0.2/7, 0.5 mm/√3 of 100 mm, 0.004 of 60/140 s, 0.05 kg/√3 of 3.2.
	want := x.Value.Value * math.Sqrt(math.Pow(0.4/7, 2)+math.Pow(0.5/math.Sqrt(3)/100, 2)+math.Pow(0.004*140/60, 2)+math.Pow(0.05/math.Sqrt(3)/3.2, 2))
	if math.Abs(x.Value.StdU-want) > 1e-9 || !strings.Contains(x.Note, "HR is 60 / RR") {
		t.Errorf("u %v, want %v; %q", x.Value.StdU, want, x.Note)
	}
}

func TestPulsatilityStatesItsMean(t *testing.T) {
	p, e := rebuilt("aca-peak-systolic-velocity", 30, 1, physical.CMPerS), rebuilt("aca-end-diastolic-velocity", 9, 1, physical.CMPerS)
	envelope := find(t, study(p, e, rebuilt("aca-time-averaged-velocity", 15.5, 1, physical.CMPerS)), "pulsatility-index-aca")
	weighted := find(t, study(p, e, rebuilt("aca-time-averaged-mean-velocity", 9, 1, physical.CMPerS)), "pulsatility-index-aca")
	if math.Abs(envelope.Value.Value-1.3548) > 1e-4 || strings.Contains(envelope.Note, "mean-velocity") {
		t.Errorf("envelope: %+v", envelope)
	}
	if math.Abs(weighted.Value.Value-7.0/3) > 1e-12 || !strings.Contains(weighted.Note, "Vmean is aca-time-averaged-mean-velocity") {
		t.Errorf("weighted: %+v", weighted)
	}
}

// BenchmarkDerive derives the indices of a study with every measure that an index
// uses, measured once.
func BenchmarkDerive(b *testing.B) {
	var list []analyse.Measurement
	seen := map[string]bool{}
	for i := range All {
		for k := range All[i].Inputs {
			if in := &All[i].Inputs[k]; in.Measure != "" && !seen[in.Measure] {
				seen[in.Measure] = true
				list = append(list, rebuilt(in.Measure, 10, 0.1, in.Unit))
			}
		}
	}
	s := study(list...)
	b.ReportAllocs()
	b.ReportMetric(float64(len(list)), "measurements")
	for b.Loop() {
		if len(Derive(s)) < 60 {
			b.Fatal("too few indices")
		}
	}
}
