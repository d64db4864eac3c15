package references

import (
	"strings"
	"testing"
	"time"

	"leadline/analyse"
	"leadline/analyse/physical"
	"leadline/ingest"
)

var units = map[string]physical.Unit{"width": physical.MM, "resistive-index": physical.One, "output": physical.MLPerMinPerKg}

func span(from, to float64) ingest.Span {
	return ingest.Span{From: ingest.Some(from), To: ingest.Some(to)}
}

func limits(id, population string, low, high float64, more ...func(*ingest.ReferenceRow)) ingest.ReferenceRow {
	r := ingest.ReferenceRow{Table: "r.csv", Line: 2, ID: id, Population: population, Low: ingest.Some(low), High: ingest.Some(high), Unit: "mm", Limits: "range", Source: "a paper"}
	for _, f := range more {
		f(&r)
	}
	return r
}

func aged(from, to float64) func(*ingest.ReferenceRow) {
	return func(r *ingest.ReferenceRow) { r.AgeDays = span(from, to) }
}

func atWeeks(from, to float64) func(*ingest.ReferenceRow) {
	return func(r *ingest.ReferenceRow) { r.PostmenstrualWeeks = span(from, to) }
}

// A study three and a half days after birth, of a child of 1.2 kg.
func studyOf(value, u float64) *analyse.Study {
	return &analyse.Study{
		Start:   ingest.Stamp{T: time.Date(2026, 9, 5, 0, 0, 0, 0, time.UTC), HasTime: true},
		Patient: &ingest.Patient{BirthDate: "20260901", BirthTime: "1200", WeightKg: ingest.Some(1.2)},
		Indices: []analyse.Index{{IndexKind: &analyse.IndexKind{ID: "width"}, Value: &physical.Quantity{Value: value, StdU: u, Unit: physical.MM}}},
	}
}

func compared(t *testing.T, s *analyse.Study, rows ...ingest.ReferenceRow) []analyse.Comparison {
	t.Helper()
	table, err := New(rows, units)
	if err != nil {
		t.Fatal(err)
	}
	table.Apply(s)
	return s.Indices[0].Compared
}

func TestStanding(t *testing.T) {
	for _, c := range []struct {
		value, u float64
		want     analyse.Standing
		close    bool
	}{
		{5, 0.1, analyse.StandingInside, false}, {2, 0, analyse.StandingInside, false}, {8, 0, analyse.StandingInside, false},
		{1.9, 0.01, analyse.StandingBelow, false}, {8.1, 0.04, analyse.StandingAbove, false},
		{1.9, 0.1, analyse.StandingBelow, true}, {7.9, 0.1, analyse.StandingInside, true},
	} {
		got := compared(t, studyOf(c.value, c.u), limits("width", "p", 2, 8))
		if len(got) != 1 || got[0].Standing != c.want || got[0].Close != c.close || got[0].Untold != "" || got[0].Source != "a paper" {
			t.Errorf("%v ± %v: %+v, want %s, close %v", c.value, 2*c.u, got, c.want, c.close)
		}
	}
}

// Ranges that contradict each other stand side by side in the order of the table.
func TestConflictsStandSideBySide(t *testing.T) {
	got := compared(t, studyOf(5, 0), limits("width", "first", 2, 4), limits("width", "second", 4, 6))
	if len(got) != 2 || got[0].Standing != analyse.StandingAbove || got[1].Standing != analyse.StandingInside || got[0].Population != "first" {
		t.Errorf("%+v", got)
	}
}

func TestConditions(t *testing.T) {
	weighing := func(from, to float64) func(*ingest.ReferenceRow) {
		return func(r *ingest.ReferenceRow) { r.WeightKg = span(from, to) }
	}
	untimed := func(s *analyse.Study) { s.Patient.BirthTime = "" }           // 3 to 4 days old
	undated := func(s *analyse.Study) { s.Patient.BirthDate = "" }           // age unknown
	written := func(s *analyse.Study) { undated(s); s.Patient.Age = "002W" } // 14 to 21 days
	for _, c := range []struct {
		name    string
		change  func(*analyse.Study)
		row     func(*ingest.ReferenceRow)
		applies bool
		untold  string
	}{
		{"the age is met", nil, aged(3, 4), true, ""},
		{"it begins at the age", nil, aged(3.5, 4), true, ""},
		{"it ends at the age", nil, aged(3, 3.5), false, ""},
		{"another age", nil, aged(7, 28), false, ""},
		{"the day is known and fits", untimed, aged(3, 4), true, ""},
		{"the day is known and may fit", untimed, aged(3.2, 3.7), true, "age"},
		{"the day is known and does not fit", untimed, aged(4, 5), false, ""},
		{"no birth date", undated, aged(3, 4), true, "age"},
		{"an age as written fits", written, aged(14, 28), true, ""},
		{"an age as written does not fit", written, aged(0, 14), false, ""},
		{"born after the study", func(s *analyse.Study) { s.Patient.BirthDate = "20261001" }, aged(3, 4), true, "age"},
		{"the weight is met", nil, weighing(1, 1.5), true, ""},
		{"another weight", nil, weighing(1.5, 2.5), false, ""},
		{"a weight in grams tells nothing", func(s *analyse.Study) { s.Patient.WeightKg = ingest.Some(1200.0) }, weighing(1, 1.5), true, "weight"},
		{"no patient", func(s *analyse.Study) { s.Patient = nil }, weighing(1, 1.5), true, "weight"},
		{"weeks of gestation are never told", nil, func(r *ingest.ReferenceRow) { r.GestationWeeks = span(28, 33) }, true, "weeks of gestation"},
		{"a row of any age", undated, func(*ingest.ReferenceRow) {}, true, ""},
	} {
		s := studyOf(5, 0)
		if c.change != nil {
			c.change(s)
		}
		got := compared(t, s, limits("width", "p", 2, 8, c.row))
		if (len(got) == 1) != c.applies || c.applies && got[0].Untold != c.untold {
			t.Errorf("%s: %+v", c.name, got)
		}
	}
}

// A chart by week, of which the week is not told, becomes one line.
func TestChart(t *testing.T) {
	rows := []ingest.ReferenceRow{
		limits("width", "ours", 1, 4, atWeeks(28, 29)), limits("width", "ours", 2, 6, atWeeks(30, 31)),
		limits("width", "ours", 1, 4.5, atWeeks(29, 30)), limits("width", "ours", 6, 8, atWeeks(31, 32)),
		limits("width", "other", 2, 8),
	}
	got := compared(t, studyOf(5, 0), rows...)
	if len(got) != 2 || got[0].Chart != "28..30 above, 30..31 inside, 31..32 below" || got[0].Standing != analyse.StandingDepending ||
		got[0].Low.Set || got[0].Untold != "postmenstrual weeks" || got[1].Population != "other" {
		t.Errorf("%+v", got)
	}
	got = compared(t, studyOf(9, 0), rows[:3]...)
	if len(got) != 1 || got[0].Standing != analyse.StandingAbove || got[0].Chart != "28..31 above" {
		t.Errorf("%+v", got)
	}
}

func TestMeasurements(t *testing.T) {
	table, err := New([]ingest.ReferenceRow{limits("width", "p", 0.2, 0.8, func(r *ingest.ReferenceRow) { r.Unit = "cm" })}, units)
	if err != nil {
		t.Fatal(err)
	}
	mm := func(v float64) *physical.Quantity { return &physical.Quantity{Value: v, Unit: physical.MM} }
	s := &analyse.Study{Measurements: []analyse.Measurement{
		{Measure: "width", Rebuilt: mm(5), Reported: &analyse.Reported{Value: 9, Unit: "mm"}},
		{Measure: "width", Reported: &analyse.Reported{Value: 0.9, Unit: "cm"}},
		{Measure: "width", Reported: &analyse.Reported{Value: 0.9, Unit: "furlong"}},
		{Measure: "width", Rebuilt: mm(5), Verdict: analyse.VerdictSuspect},
		{Measure: "", Rebuilt: mm(5)}, {Measure: "output", Rebuilt: mm(5)}, {Measure: "width"},
	}}
	table.Apply(s)
	for i, want := range []analyse.Standing{analyse.StandingInside, analyse.StandingAbove, "", "", "", "", ""} {
		got := s.Measurements[i].Compared
		if (want == "") != (len(got) == 0) || want != "" && got[0].Standing != want {
			t.Errorf("measurement %d: %+v, want %q", i, got, want)
		}
	}
	if low := s.Measurements[0].Compared[0].Low.Value; low != 2 {
		t.Errorf("the limit in mm is %v, want 2", low)
	}
}

// An index of one side has the rows of the index without a side, unless it has
// rows of its own.
func TestSides(t *testing.T) {
	one := func(id, population string) ingest.ReferenceRow {
		return limits(id, population, 0.5, 0.8, func(r *ingest.ReferenceRow) { r.Unit = "1" })
	}
	table, err := New([]ingest.ReferenceRow{one("resistive-index", "both"), one("resistive-index-left", "left")},
		map[string]physical.Unit{"resistive-index": physical.One, "resistive-index-left": physical.One})
	if err != nil {
		t.Fatal(err)
	}
	for id, want := range map[string]string{"resistive-index": "both", "resistive-index-left": "left", "resistive-index-right": "both", "resistive-index-mean": "both", "resistive-index-mean-right": "both"} {
		if rows := table.of(id); len(rows) != 1 || rows[0].Population != want {
			t.Errorf("%s: %+v", id, rows)
		}
	}
}

func TestNewRefuses(t *testing.T) {
	for want, row := range map[string]ingest.ReferenceRow{
		"r.csv: row 2, id: expected the id of a measure or an index, perhaps width": limits("widht", "p", 1, 2),
		"r.csv: row 2, unit: expected a unit of this quantity, such as mm":          limits("width", "p", 1, 2, func(r *ingest.ReferenceRow) { r.Unit = "cm/s" }),
	} {
		if _, err := New([]ingest.ReferenceRow{row}, units); err == nil || err.Error() != want {
			t.Errorf("got %v, want %s", err, want)
		}
	}
	if _, err := New([]ingest.ReferenceRow{limits("qqqqqqqqqqqqqqqq", "p", 1, 2)}, units); err == nil || !strings.Contains(err.Error(), "README") {
		t.Error(err)
	}
	var none *Table
	none.Apply(studyOf(1, 0))
}
