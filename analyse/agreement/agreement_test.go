package agreement

import (
	"math"
	"strings"
	"testing"

	"leadline/analyse"
	"leadline/analyse/physical"
	"leadline/ingest"
)

// device and take make a study of one image: each take is a line of its own.
var (
	tern   = &ingest.Device{Model: "Tern"}
	petrel = &ingest.Device{Model: "Petrel"}
	places float64
)

func take(observer string, rebuilt float64, change ...func(*analyse.Measurement)) analyse.Measurement {
	places++
	m := analyse.Measurement{
		Measure: "tapse", SOPUID: "1.1", Observer: observer, Quantity: analyse.DepthDifference, Points: []ingest.Point{{X: places}},
		Rebuilt: &physical.Quantity{Value: rebuilt, Unit: physical.MM}, Verdict: analyse.VerdictRebuiltOnly,
	}
	for _, f := range change {
		f(&m)
	}
	return m
}

func differing(by float64) func(*analyse.Measurement) {
	return func(m *analyse.Measurement) { m.Difference = ingest.Some(by) }
}

func studyBy(d *ingest.Device, list ...analyse.Measurement) *analyse.Study {
	image := &analyse.Image{Instance: &ingest.Instance{SOPInstanceUID: "1.1", Device: d}}
	return &analyse.Study{Images: []*analyse.Image{image}, Measurements: list}
}

// one finds a statistic; it fails where there is none or more than one.
func one(t *testing.T, list []analyse.Statistic, what analyse.Compared, name string) analyse.Statistic {
	t.Helper()
	var found []analyse.Statistic
	for _, s := range list {
		if s.Compared == what && s.Name == name {
			found = append(found, s)
		}
	}
	if len(found) != 1 {
		t.Fatalf("%s %s: %d rows in %+v", what, name, len(found), list)
	}
	return found[0]
}

func TestReported(t *testing.T) {
	suspect := take("b", 5, differing(99))
	suspect.Verdict = analyse.VerdictSuspect
	list := Of([]*analyse.Study{
		studyBy(tern, take("a", 10, differing(0.2)), take("a", 11), suspect),
		studyBy(tern, take("a", 12, differing(0.4)), take("a", 9, differing(50), func(m *analyse.Measurement) { m.Measure = "" })),
		studyBy(petrel, take("a", 12, differing(7))), // one difference says nothing
	})
	bias := one(t, list, analyse.ReportedRebuilt, "bias")
	// Mean of 0.2 and 0.4; s = 0.1·√2; t(1) = 12.706 (tables).
	if math.Abs(bias.Value-0.3) > 1e-12 || bias.N != 2 || bias.Studies != 2 || bias.Unit != physical.MM || bias.Device != tern || bias.Observer != "a" {
		t.Errorf("%+v", bias)
	}
	if half := 12.7062 * 0.1 * math.Sqrt2 / math.Sqrt2; math.Abs(bias.High.Value-bias.Value-half) > 1e-3 {
		t.Errorf("interval to %v, want + %v", bias.High.Value, half)
	}
	if limit := one(t, list, analyse.ReportedRebuilt, "lower-limit"); math.Abs(limit.Value-(0.3-1.96*0.1*math.Sqrt2)) > 1e-9 {
		t.Errorf("%+v", limit)
	}
}

// Repeats are of one study, observer, device and side; one caliper that was stored
// twice is no repeat.
func TestRepeats(t *testing.T) {
	left := func(m *analyse.Measurement) { m.Side = "left" }
	stored := take("a", 10)
	list := Of([]*analyse.Study{
		studyBy(tern, stored, stored, take("a", 12), take("a", 90, left), take("b", 50)),
		studyBy(tern, take("a", 20), take("a", 24)),
	})
	sd := one(t, list, analyse.Repeats, "within-subject-sd")
	// s² of 10, 12 is 2 and of 20, 24 is 8: √5.
	if math.Abs(sd.Value-math.Sqrt(5)) > 1e-12 || sd.N != 4 || sd.Studies != 2 || sd.Observer != "a" {
		t.Errorf("%+v", sd)
	}
	cv := one(t, list, analyse.Repeats, "within-subject-cv")
	if want := 100 * math.Sqrt((2./121+8./484)/2); math.Abs(cv.Value-want) > 1e-12 || cv.Unit != physical.Percent {
		t.Errorf("%+v, want %v", cv, want)
	}
}

// Observers are paired on the same image, by the mean of each; a caliper that stands
// under two names is one.
func TestObservers(t *testing.T) {
	copied := take("a", 30)
	other := copied
	other.Observer = "b"
	list := Of([]*analyse.Study{
		studyBy(tern, take("a", 10), take("a", 12), take("b", 10), take("", 99)),
		studyBy(tern, take("a", 20), take("b", 19.5)),
		studyBy(tern, take("a", 15), take("b", 14.2)),
		studyBy(tern, copied, other),
	})
	bias := one(t, list, analyse.Observers, "bias")
	if want := (1 + 0.5 + 0.8) / 3; math.Abs(bias.Value-want) > 1e-12 || bias.N != 3 || bias.Observer != "a" || bias.Other != "b" {
		t.Errorf("%+v, want %v", bias, want)
	}
	two, three := one(t, list, analyse.Observers, "icc-2-1"), one(t, list, analyse.Observers, "icc-3-1")
	if !(two.Value < three.Value && three.Value < 1) || two.Unit != physical.One || two.N != 3 {
		t.Errorf("%+v %+v: a constant difference must lower absolute agreement alone", two, three)
	}
}

// Two areas of a study need not be of one thing; with their reported values they
// are compared all the same.
func TestUnspecificIsNoRepeat(t *testing.T) {
	area := func(m *analyse.Measurement) { m.Measure = "area" }
	psv := func(m *analyse.Measurement) { m.Measure = "peak-systolic-velocity" }
	list := Of([]*analyse.Study{
		studyBy(tern, take("a", 100, area, differing(1)), take("a", 7, area, differing(2)), take("b", 100, area), take("a", 30, psv), take("a", 60, psv)),
		studyBy(tern, take("a", 90, area), take("b", 9, area)),
	})
	for _, s := range list {
		if s.Compared != analyse.ReportedRebuilt {
			t.Errorf("%+v", s)
		}
	}
	if bias := one(t, list, analyse.ReportedRebuilt, "bias"); bias.N != 2 {
		t.Errorf("%+v", bias)
	}
}

// Tables write frame 1 of a still, reports leave it out: one caliper, not a pair.
func TestStillStoredTwice(t *testing.T) {
	var studies []*analyse.Study
	for i := range 3 {
		report := take("a", 10+float64(i))
		table := report
		table.Observer, table.Frames = "b", []int{1}
		studies = append(studies, studyBy(tern, report, table))
	}
	if list := Of(studies); len(list) != 0 {
		t.Errorf("%+v", list)
	}
	later := studies[0].Measurements[0]
	later.Frames = []int{2}
	studies[0].Measurements = append(studies[0].Measurements, later)
	if sd := one(t, Of(studies), analyse.Repeats, "within-subject-sd"); sd.N != 2 || sd.Studies != 1 {
		t.Errorf("on another frame: %+v", sd)
	}
}

// A length of a 2D picture and one of an M-mode strip are of two methods: no repeats of
// each other, and in rows of their own.
func TestModesApart(t *testing.T) {
	in := func(mode analyse.Mode) func(*analyse.Measurement) {
		return func(m *analyse.Measurement) { m.Mode = mode }
	}
	list := Of([]*analyse.Study{studyBy(tern, take("a", 18, in(analyse.Mode2D)), take("a", 17, in(analyse.ModeMMode)), take("b", 16, in(analyse.ModeMMode)))})
	if len(list) != 0 {
		t.Errorf("one value in each mode: %+v", list)
	}
	list = Of([]*analyse.Study{studyBy(tern, take("a", 18, in(analyse.Mode2D)), take("a", 17, in(analyse.ModeMMode)), take("a", 19, in(analyse.Mode2D)), take("a", 17.4, in(analyse.ModeMMode)))})
	var modes []analyse.Mode
	for _, s := range list {
		if s.Name == "within-subject-sd" {
			modes = append(modes, s.Mode)
			if want := map[analyse.Mode]float64{analyse.Mode2D: math.Sqrt(0.5), analyse.ModeMMode: 0.2 * math.Sqrt2}[s.Mode]; math.Abs(s.Value-want) > 1e-12 || s.N != 2 {
				t.Errorf("%+v, want %v", s, want)
			}
		}
	}
	if len(modes) != 2 || modes[0] == modes[1] {
		t.Errorf("modes %v", modes)
	}
}

// Where all differences are equal there is no interval, and the row says why: pixels
// come in steps.
func TestNoScatterNoInterval(t *testing.T) {
	list := Of([]*analyse.Study{
		studyBy(tern, take("a", 10, differing(0.1)), take("b", 10)),
		studyBy(tern, take("a", 12, differing(0.1)), take("b", 12)),
		studyBy(tern, take("a", 14.7, differing(0.1)), take("b", 14.7)),
		studyBy(petrel, take("a", 10), take("a", 10)),
	})
	seen := 0
	for _, s := range list {
		if s.Low.Set || s.High.Set || s.Note == "" {
			t.Errorf("%+v", s)
		}
		seen++
	}
	if seen < 10 {
		t.Errorf("%d rows: %+v", seen, list)
	}
}

func TestTwoImagesGiveNoCorrelation(t *testing.T) {
	list := Of([]*analyse.Study{
		studyBy(tern, take("a", 10), take("b", 10.4)),
		studyBy(tern, take("a", 10.1), take("b", 9.9)),
	})
	one(t, list, analyse.Observers, "bias")
	for _, s := range list {
		if strings.HasPrefix(s.Name, "icc") {
			t.Errorf("%+v", s)
		}
	}
}
