package acoustic

import (
	"fmt"
	"math"
	"slices"
	"testing"
	"time"

	"leadline/analyse"
	"leadline/ingest"
)

func builtin(t *testing.T) *Limits {
	t.Helper()
	rows, err := ingest.ReadAcousticLimits(ingest.BuiltinLimits)
	if err != nil {
		t.Fatal(err)
	}
	return New(rows)
}

// image is one of a series with this Body Part Examined and study description;
// seconds above 0 make it a clip.
func image(uid, part, description string, seconds float64, a ingest.Acoustic) *analyse.Image {
	p := &analyse.Picture{Kind: analyse.Still}
	if seconds > 0 {
		p.Kind, p.DurationS = analyse.Clip, ingest.Some(seconds)
	}
	if a.Cranial.Set {
		p.ThermalIndex = a.Cranial
	}
	return &analyse.Image{Picture: p, Instance: &ingest.Instance{
		SOPInstanceUID: uid, Device: &ingest.Device{Model: "Tern"}, Image: &ingest.Image{Acoustic: a},
		Series: &ingest.Series{Modality: "US", BodyPart: part}, Study: &ingest.Study{Description: description},
	}}
}

func mi(v float64) ingest.Acoustic { return ingest.Acoustic{Mechanical: ingest.Some(v)} }

func study(images ...*analyse.Image) *analyse.Study {
	return &analyse.Study{UID: "2.25.1", Start: ingest.Stamp{T: time.Date(2026, 9, 3, 0, 0, 0, 0, time.UTC)}, Images: images}
}

// A survey of newborn heart scans found B-mode MI 1.1 ± 0.3 and colour 1.3 ± 0.3 on
// average, 1.6 and 1.7 at most and one preset at 1.9: four to six times the 0.3 that
// BMUS names (shared/reference/measurements.md 5).
func TestSurvey(t *testing.T) {
	var images []*analyse.Image
	for i, v := range []float64{1.1, 1.3, 1.6, 1.7, 1.9, 0.3} {
		images = append(images, image(fmt.Sprint(i), "HEART", "", 2, mi(v)))
	}
	s := study(images...)
	l := builtin(t)
	l.Apply(s)
	if len(s.Acoustic) != 1 {
		t.Fatalf("%+v", s.Acoustic)
	}
	x := s.Acoustic[0]
	if x.Above != 5 || x.With != 6 || x.Max != 1.9 || x.SOPUID != "4" || x.Exam != "heart" || x.Told != "Body Part Examined" {
		t.Errorf("%+v", x)
	}
	for _, times := range []float64{images[1].Instance.Image.Acoustic.Mechanical.Value, x.Max} {
		if ratio := times / x.Lowest.Above; ratio < 4 || ratio > 6.4 {
			t.Errorf("%.1f times the limit, published 4 to 6", ratio)
		}
	}
	r := l.Rows([]*analyse.Study{s})[0]
	if r.Above != 5 || r.With != 6 || r.Share.Value != 5.0/6 || r.AboveS != 10 || r.ClipS != 12 || r.LongestS != 10 || r.Max.Value != 1.9 || math.Abs(r.Median.Value-1.45) > 1e-9 || r.Month != "2026-09" {
		t.Errorf("%+v", r)
	}
}

// TestExam: the exam is what a header or a label names, the first fact that names one.
func TestExam(t *testing.T) {
	for _, c := range []struct{ part, description, region, view, label, exam, fact string }{
		{part: "LUNG", description: "Heart", exam: "lung", fact: "Body Part Examined"},
		{description: "Functional newborn heart study", exam: "heart", fact: "descriptions"},
		{description: "Newborn", region: "Thoracic structure", exam: "lung", fact: "anatomic region"},
		{description: "Heart", region: "Brain", exam: "head", fact: "anatomic region"},
		{description: "Seen on the ward"},
		{part: "HIP"},
		{description: "Lungfish"},
		{description: "Diaphragm"},
		{description: "Newborn", view: "lung-lateral", exam: "lung", fact: "view"},
		{description: "Heart", view: "anterior-cerebral-artery", exam: "head", fact: "view"},
		{part: "HEART", view: "lung-lateral", exam: "heart", fact: "Body Part Examined"},
		{part: "HEART", view: "lung-lateral", label: "view", exam: "lung", fact: "label"},
		{part: "HEART", view: "lung-lateral", label: "Neonatal head", exam: "head", fact: "label"},
		{part: "HEART", label: "our preset 4", exam: "heart", fact: "Body Part Examined"},
		{view: "diaphragm", label: "view"},
	} {
		img := image("1", c.part, c.description, 0, mi(1))
		if c.region != "" {
			img.Instance.Image.AnatomicRegions = []ingest.Code{{Meaning: c.region}}
		}
		img.ViewID = c.view
		switch c.label {
		case "":
		case "view":
			img.ViewSource = analyse.ViewOfLabel
		default:
			img.Exam = c.label
		}
		exam := ""
		a := builtin(t).of(img, nothingTold())
		if a.exam != nil {
			exam = a.exam.id
		}
		if exam != c.exam || a.fact != c.fact {
			t.Errorf("%+v: %s by %s", c, exam, a.fact)
		}
	}
}

// TestAbsent: what a header does not give is counted as not given, and never above.
func TestAbsent(t *testing.T) {
	s := study(image("1", "LUNG", "", 0, ingest.Acoustic{}), image("2", "HIP", "", 0, mi(1.5)), image("3", "", "", 0, ingest.Acoustic{}))
	ct := image("4", "CHEST", "", 0, ingest.Acoustic{})
	ct.Series.Modality = "CT"
	s.Images = append(s.Images, ct)
	l := builtin(t)
	l.Apply(s)
	if len(s.Acoustic) != 0 {
		t.Errorf("%+v", s.Acoustic)
	}
	rows := l.Rows([]*analyse.Study{s})
	if len(rows) != 4 { // none told MI; not given: lung MI and TI, none told TI
		t.Fatalf("%d rows", len(rows))
	}
	if r := rows[0]; r.Exam != "" || r.Index != ingest.IndexMI || r.Limit != nil || r.Images != 2 || r.With != 1 || r.Above != 0 || r.Share.Set {
		t.Errorf("%+v", r)
	}
	if r := rows[1]; r.Exam != "lung" || r.Limit != nil || r.Images != 1 || r.With != 0 || r.Above != 0 || r.Share.Set || r.Median.Set {
		t.Errorf("%+v", r)
	}
	if totals := Totals(rows); len(totals) != 0 {
		t.Errorf("totals of nothing that has a limit: %+v", totals)
	}
	(*Limits)(nil).Apply(s)
}

// TestAbsurd: values that are no reading are in no share, median, largest or finding,
// and are not counted as left out by the header; those at the bounds are readings.
func TestAbsurd(t *testing.T) {
	s := study(image("1", "LUNG", "", 0, mi(-0.4)), image("2", "LUNG", "", 3, mi(110)), image("3", "LUNG", "", 0, mi(0.2)),
		image("4", "LUNG", "", 0, mi(analyse.MostMechanicalIndex)), image("5", "LUNG", "", 0, ingest.Acoustic{}))
	l := builtin(t)
	l.Apply(s)
	if x := s.Acoustic; len(x) != 1 || x[0].Above != 1 || x[0].With != 2 || x[0].Max != analyse.MostMechanicalIndex || x[0].SOPUID != "4" {
		t.Errorf("%+v", x)
	}
	r := l.Rows([]*analyse.Study{s})[0]
	if r.SetAside != 2 || r.With != 2 || r.Above != 1 || r.Images != 5 || r.Share.Value != 0.5 || r.Median.Value != (0.2+analyse.MostMechanicalIndex)/2 || r.Clips != 0 || r.ClipS != 0 {
		t.Errorf("%+v", r)
	}
	s = study(image("1", "LUNG", "", 0, mi(-1)))
	l.Apply(s)
	if r := l.Rows([]*analyse.Study{s})[0]; len(s.Acoustic) != 0 || r.SetAside != 1 || r.With != 0 || r.Max.Set || r.Share.Set {
		t.Errorf("%+v\n%+v", s.Acoustic, r)
	}
}

// TestOrder: what is above a limit comes first, what no header gives last and in one
// row for all months; totals name the device with the largest share first.
func TestOrder(t *testing.T) {
	monthly := func(month time.Month, device string, values ...float64) *analyse.Study {
		s := &analyse.Study{Start: ingest.Stamp{T: time.Date(2026, month, 3, 0, 0, 0, 0, time.UTC)}}
		for i, v := range values {
			a := ingest.Acoustic{}
			if v > 0 {
				a = mi(v)
			}
			img := image(fmt.Sprint(month, device, i), "LUNG", "", 0, a)
			img.Device = &ingest.Device{Model: device}
			s.Images = append(s.Images, img)
		}
		return s
	}
	l := builtin(t)
	rows := l.Rows([]*analyse.Study{
		monthly(1, "Dunlin", 0, 0), monthly(2, "Dunlin", 0), monthly(3, "Dunlin", 0.2, 0),
		monthly(1, "Knot", 0.2, 0.2), monthly(2, "Knot", 0.9, 0.1, 0.1, 0.1), monthly(1, "Tern", 0.9, 0.1),
	})
	var got []string
	for _, r := range rows {
		got = append(got, fmt.Sprintf("%s %s %s: %d of %d, %d without", r.Index, r.Device.Model, r.Month, r.Above, r.With, r.Images-r.With))
	}
	want := []string{
		"MI Knot 2026-02: 1 of 4, 0 without", "MI Tern 2026-01: 1 of 2, 0 without",
		"MI Dunlin 2026-03: 0 of 1, 1 without", "MI Knot 2026-01: 0 of 2, 0 without",
		"MI Dunlin : 0 of 0, 3 without", "TI Dunlin : 0 of 0, 5 without", "TI Knot : 0 of 0, 6 without", "TI Tern : 0 of 0, 2 without",
	}
	if !slices.Equal(got, want) {
		t.Errorf("got  %q\nwant %q", got, want)
	}
	totals := Totals(rows)
	if len(totals) != 1 || totals[0].Above != 2 || totals[0].With != 9 || totals[0].Max != 0.9 {
		t.Fatalf("%+v", totals)
	}
	var shares []string
	for _, d := range totals[0].Devices {
		shares = append(shares, fmt.Sprintf("%s %d of %d", d.Device.Model, d.Above, d.With))
	}
	if want := []string{"Tern 1 of 2", "Knot 1 of 6", "Dunlin 0 of 1"}; !slices.Equal(shares, want) {
		t.Errorf("%q, want %q", shares, want)
	}
}

// TestLadder: TIC 1.2 lies above 0.7 and 1.0, of which the time is 30 minutes
// (BMUS 2009); clips of 31 minutes are beyond it and within the 60 of the first step.
func TestLadder(t *testing.T) {
	a := ingest.Acoustic{Cranial: ingest.Some(1.2), SoftTissue: ingest.Some(2.8)}
	s := study(image("1", "HEAD", "", 31*60, a), image("2", "HEAD", "", 0, a))
	l := builtin(t)
	l.Apply(s)
	if x := s.Acoustic; len(x) != 1 || x[0].Lowest.Above != 0.7 || x[0].Highest.Above != 1 || x[0].Highest.Minutes.Value != 30 || x[0].Max != 1.2 {
		t.Fatalf("%+v", x)
	}
	rows := l.Rows([]*analyse.Study{s})
	if len(rows) != 2 { // nothing lies above the other steps
		t.Fatalf("%d rows", len(rows))
	}
	for i, want := range []struct{ above, beyond int }{{2, 0}, {2, 1}} {
		if r := rows[i]; r.Above != want.above || r.Beyond != want.beyond || r.Clips != 1 {
			t.Errorf("step %d: %+v", i+1, r)
		}
	}
	if totals := Totals(rows); len(totals) != 1 || totals[0].Above != 2 || totals[0].With != 2 || totals[0].Limit.Above != 0.7 {
		t.Errorf("the lowest limit alone makes the total: %+v", totals)
	}
}

func TestSoftTissue(t *testing.T) {
	img := image("1", "", "", 0, ingest.Acoustic{SoftTissue: ingest.Some(0.4), SoftTissueSurface: ingest.Some(0.9)})
	if v, aside := valueOf(img, ingest.IndexTIS); v != ingest.Some(0.9) || aside {
		t.Errorf("TIS %+v", v)
	}
}

// TestMonth: the month is the one that the clock of the device showed, also where it was
// another one in UTC.
func TestMonth(t *testing.T) {
	s := study(image("1", "LUNG", "", 0, mi(0.2)))
	s.Start = ingest.Stamp{T: time.Date(10000, 1, 1, 4, 30, 0, 0, time.UTC), HasTime: true, Zone: true, East: -5 * time.Hour}
	if r := builtin(t).Rows([]*analyse.Study{s})[0]; r.Month != "9999-12" {
		t.Errorf("month %s", r.Month)
	}
}
