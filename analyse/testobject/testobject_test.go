package testobject

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"leadline/analyse"
	"leadline/analyse/physical"
	"leadline/ingest"
	"leadline/ingest/protocol"
)

const gel = `
language: 1
name: gel-block
title: Gel block
scans: {words: [test object], temperature: 22}
material: {speed: 1540, speed-uncertainty: 0, at-degrees: 22, per-degree: 1.5, source: invented}
interval-months: 1
baseline: {from: 2025-01-01, to: 2025-08-31}
targets:
  - {id: down, title: Down, direction: axial, distance: 40, uncertainty: 0.1, labels: [down]}
  - {id: across, title: Across, direction: lateral, distance: 30, labels: [across*]}
`

func object(t *testing.T, text string) *protocol.TestObject {
	t.Helper()
	o, err := protocol.ParseTestObject("gel.yaml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return o
}

// scan is a study of the test object with rebuilt lengths by label.
func scan(day string, d *ingest.Device, lengths ...any) *analyse.Study {
	at, err := time.Parse(time.DateOnly, day)
	if err != nil {
		panic(err)
	}
	inst := &ingest.Instance{
		SOPInstanceUID: "2.25." + day, Device: d, Patient: &ingest.Patient{},
		Study: &ingest.Study{Description: "Monthly test object"}, Series: &ingest.Series{}, Image: &ingest.Image{},
	}
	s := &analyse.Study{
		UID: "2.25.9" + day, Start: ingest.Stamp{T: at}, Devices: []*ingest.Device{d},
		Images: []*analyse.Image{{Instance: inst}},
	}
	for i := 0; i+1 < len(lengths); i += 2 {
		s.Measurements = append(s.Measurements, analyse.Measurement{
			Label: lengths[i].(string), SOPUID: inst.SOPInstanceUID, Points: []ingest.Point{{X: float64(i)}, {Y: 1}},
			Rebuilt: &physical.Quantity{Value: lengths[i+1].(float64), StdU: 0.03, Unit: physical.MM}, Verdict: analyse.VerdictRebuiltOnly,
		})
	}
	return s
}

func month(i int) string {
	return time.Date(2025, time.January+time.Month(i), 15, 0, 0, 0, 0, time.UTC).Format(time.DateOnly)
}

var tern = &ingest.Device{Manufacturer: "Maker", Model: "Tern", Serial: "1", Transducer: "L", TransducerType: "LINEAR"}

// Displayed = true · 1540/c: +6.21 % in fat of 1450 m/s, +4.05 % at 1480, −2.53 % in
// muscle of 1580 (shared/reference/measurements.md 3.2); water at 20 °C, 1482.4 m/s by
// Marczak 1997, +3.89 % (check-values.md 3). The correction undoes just that.
func TestSpeedOfSound(t *testing.T) {
	for _, c := range []struct{ speed, percent float64 }{{1450, 6.21}, {1480, 4.05}, {1482.4, 3.89}, {1520, 1.32}, {1580, -2.53}} {
		factor, _ := sound{speed: c.speed}.factor(protocol.Axial, protocol.AssumedSpeedMS)
		if got := 100 * (1/factor - 1); math.Abs(got-c.percent) > 0.005 {
			t.Errorf("%g m/s: displayed %+.3f %%, published %+.2f %%", c.speed, got, c.percent)
		}
	}
	if factor, _ := (sound{speed: 1450}).factor(protocol.Lateral, 1540); factor != 1 {
		t.Errorf("a distance across the beam is turned by %g", factor)
	}
}

func TestTemperature(t *testing.T) {
	o := object(t, strings.Replace(gel, "temperature: 22}", "temperatures: {2025-01-15: 25}}", 1))
	if s := soundOf(o, scan("2025-01-15", tern).Start); s.speed != 1540+1.5*3 || s.note != "" {
		t.Errorf("at 25 °C: %+v", s)
	}
	if s := soundOf(o, scan("2025-02-15", tern).Start); s.speed != 1540 || !strings.Contains(s.note, "no temperature given") {
		t.Errorf("without a temperature: %+v", s)
	}
}

func TestVerdict(t *testing.T) {
	for _, c := range []struct {
		bias, u, tolerance float64
		want               analyse.TestVerdict
	}{
		{0.5, 0.2, 1.5, analyse.TestPass}, {-1.3, 0.2, 1.5, analyse.TestPass}, {1.4, 0.2, 1.5, analyse.TestUndecided},
		{-1.6, 0.2, 1.5, analyse.TestUndecided}, {1.8, 0.2, 1.5, analyse.TestFail}, {-1.8, 0.2, 1.5, analyse.TestFail}, {0, 1.6, 1.5, analyse.TestUndecided},
	} {
		if got := verdict(c.bias, c.u, c.tolerance); got != c.want {
			t.Errorf("%+v: %s", c, got)
		}
	}
}

func row(t *testing.T, o *analyse.TestObject, target string, scope analyse.TestScope) analyse.TargetResult {
	t.Helper()
	for _, r := range o.Targets {
		if r.Target == target && r.Scope == scope {
			return r
		}
	}
	t.Fatalf("no row of %s, %s in %+v", target, scope, o.Targets)
	return analyse.TargetResult{}
}

// TestJudge: two repeats in each of ten tests, every figure by hand.
func TestJudge(t *testing.T) {
	var studies []*analyse.Study
	errors := []float64{0.1, -0.1, 0.1, -0.1, 0.1, -0.1, 0.1, -0.1, 0.1, 1.9}
	for i, e := range errors {
		studies = append(studies, scan(month(i), tern, "down", 40+e-0.05, "down", 40+e+0.05, "Across the block", 30.2, "something else", 5.0))
	}
	got := Judge(studies, object(t, gel))
	if got.Scans != 10 || got.Unassigned != 10 || len(got.Devices) != 1 {
		t.Fatalf("%+v", got)
	}
	all := row(t, got, "down", analyse.ScopeAll)
	near(t, "bias", all.Error.Value, 0.2)
	// s of the ten errors: squares (4·0.1² + 5·0.3² + 1.7²) / 9.
	sd := math.Sqrt((5*0.01 + 4*0.09 + 1.7*1.7) / 9)
	near(t, "between tests", all.BetweenSD.Value, sd)
	near(t, "interval", all.High.Value-all.Error.Value, 2.262157*sd/math.Sqrt(10)) // t(9), tables
	// Two values 0.1 apart: s = 0.1/√2 in every test.
	near(t, "within tests", all.WithinSD.Value, 0.1/math.Sqrt2)
	latest := row(t, got, "down", analyse.ScopeLatest)
	near(t, "newest error", latest.Error.Value, 1.9)
	if latest.Verdict != analyse.TestFail || all.Verdict != analyse.TestPass || got.Devices[0].Verdict != analyse.TestFail {
		t.Errorf("verdicts %s, %s, %s", latest.Verdict, all.Verdict, got.Devices[0].Verdict)
	}
	// u of the newest: s_w/√2 of ten degrees of freedom and 0.05 of the certificate.
	a, b := 0.1/math.Sqrt2/math.Sqrt2, 0.05
	near(t, "U", latest.U.Value, 2.021075*math.Hypot(a, b)) // t(40), tables: ν = 10·(a² + b²)² ÷ a⁴ = 40
	if r := row(t, got, "across", analyse.ScopeLatest); r.Verdict != analyse.TestPass || !strings.Contains(r.Note, "never repeated") {
		t.Errorf("%+v", r)
	}
	if d := got.Devices[0]; d.NextDue.Date() != "2025-11-15" || d.Overdue.Value || fmt.Sprint(d.Signalled) != "[Down]" {
		t.Errorf("%+v", d)
	}
}

func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 1e-5 {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}

// TestOdd: what archives hold besides long clean series.
func TestOdd(t *testing.T) {
	none := &ingest.Device{Model: "Petrel"}
	patient := scan("2025-06-01", &ingest.Device{Model: "Gull", Serial: "7"}, "down", 99.0)
	patient.Images[0].Study.Description = "Heart"
	for name, c := range map[string]struct {
		studies []*analyse.Study
		check   func(*analyse.TestObject) bool
	}{
		"nothing": {nil, func(o *analyse.TestObject) bool { return o.Scans == 0 && len(o.Targets) == 0 }},
		"one study": {[]*analyse.Study{scan("2025-01-01", tern, "down", 40.0)}, func(o *analyse.TestObject) bool {
			r := o.Targets[0]
			return r.Verdict == analyse.TestPass && !r.Low.Set && r.U.Value > 0.05 && len(o.Charts) == 1 && strings.HasPrefix(o.Charts[0].Note, "no limits: 1 test in")
		}},
		"no serial": {[]*analyse.Study{scan("2025-01-01", none, "down", 40.0)}, func(o *analyse.TestObject) bool { return strings.Contains(o.Devices[0].Note, "no serial number") }},
		"unknown targets": {[]*analyse.Study{scan("2025-01-01", tern, "left", 40.0)}, func(o *analyse.TestObject) bool {
			return o.Unassigned == 1 && o.Devices[0].Verdict == analyse.TestNotMeasured && o.Targets[0].Note == "no length of the target in 1 scan"
		}},
		"a patient's study": {[]*analyse.Study{patient}, func(o *analyse.TestObject) bool {
			return o.Scans == 0 && o.Devices[0].Verdict == analyse.TestNever && o.Unassigned == 0
		}},
		"all the same": {same(12), func(o *analyse.TestObject) bool {
			return o.Targets[1].Verdict == analyse.TestPass && o.Targets[1].U.Value > 0.05 && strings.HasPrefix(o.Charts[0].Note, "no limits: the tests of the baseline do not vary")
		}},
		"no date": {[]*analyse.Study{undated()}, func(o *analyse.TestObject) bool {
			return o.Targets[0].Verdict == analyse.TestPass && len(o.Charts) == 0 && !o.Devices[0].Overdue.Set
		}},
		"suspect": {[]*analyse.Study{suspect()}, func(o *analyse.TestObject) bool { return o.Targets[0].Verdict == analyse.TestNotMeasured }},
	} {
		t.Run(name, func(t *testing.T) {
			o := Judge(c.studies, object(t, gel))
			if !c.check(o) {
				t.Errorf("%+v", o)
			}
			for _, r := range o.Targets {
				for _, v := range []ingest.Optional[float64]{r.Error, r.U, r.Low, r.High, r.WithinSD, r.BetweenSD} {
					if math.IsNaN(v.Value) || math.IsInf(v.Value, 0) {
						t.Errorf("%+v", r)
					}
				}
			}
		})
	}
}

func same(n int) (list []*analyse.Study) {
	for i := range n {
		list = append(list, scan(month(i), tern, "down", 40.5))
	}
	return list
}

func undated() *analyse.Study {
	s := scan("2025-01-01", tern, "down", 40.0)
	s.Start = ingest.Stamp{}
	return s
}

func suspect() *analyse.Study {
	s := scan("2025-01-01", tern, "down", 40.0)
	s.Measurements[0].Verdict = analyse.VerdictSuspect
	return s
}

// TestLikePatients: a file whose words name too much is told so.
func TestLikePatients(t *testing.T) {
	s := scan("2025-01-01", tern, "down", 40.0)
	s.Patient = &ingest.Patient{BirthDate: "20250101"}
	if got := Judge([]*analyse.Study{s, scan("2025-02-01", tern, "down", 40.0)}, object(t, gel)); got.Scans != 2 || got.LikePatients != 1 {
		t.Errorf("%d scans, %d like patients", got.Scans, got.LikePatients)
	}
}

// TestReported: a number without a caliper counts, with half its last place.
func TestReported(t *testing.T) {
	s := scan("2025-01-01", tern, "down", 0.0)
	s.Measurements[0].Rebuilt, s.Measurements[0].Points = nil, nil
	s.Measurements[0].Reported = &analyse.Reported{Value: 4.1, Text: "4.1", Unit: "cm"}
	r := Judge([]*analyse.Study{s}, object(t, gel)).Targets[0]
	near(t, "error", r.Error.Value, 1)
	near(t, "U", r.U.Value, 1.959964*math.Hypot(0.5/math.Sqrt(3), 0.05))
	if !strings.Contains(r.Note, "1 of 1 value as reported") {
		t.Error(r.Note)
	}
}

// TestGap: no moving range over a missed test.
func TestGap(t *testing.T) {
	at := func(day string) ingest.Stamp { s, _ := time.Parse(time.DateOnly, day); return ingest.Stamp{T: s} }
	for _, c := range []struct {
		from, to string
		want     bool
	}{{"2025-01-15", "2025-02-15", false}, {"2025-01-15", "2025-03-10", false}, {"2025-01-15", "2025-04-15", true}} {
		if got := gap(at(c.from), at(c.to), ingest.Some(1)); got != c.want {
			t.Errorf("%+v: %v", c, got)
		}
	}
	if day := addMonths(at("2025-08-31").T, 6); day.Format(time.DateOnly) != "2026-02-28" {
		t.Errorf("six months after 31 August: %s", day)
	}
}
