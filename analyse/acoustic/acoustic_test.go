package acoustic

import (
	"fmt"
	"math"
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

// TestExam: the exam is what a header names, the first fact that names one.
func TestExam(t *testing.T) {
	for _, c := range []struct{ part, description, region, exam, fact string }{
		{"LUNG", "Heart", "", "lung", "Body Part Examined"},
		{"", "Functional newborn heart study", "", "heart", "descriptions"},
		{"", "Newborn", "Thoracic structure", "lung", "anatomic region"},
		{"", "Heart", "Brain", "head", "anatomic region"},
		{"", "Seen on the ward", "", "", ""},
		{"HIP", "", "", "", ""},
		{"", "Lungfish", "", "", ""},
		{"", "Diaphragm", "", "", ""},
	} {
		img := image("1", c.part, c.description, 0, mi(1))
		if c.region != "" {
			img.Instance.Image.AnatomicRegions = []ingest.Code{{Meaning: c.region}}
		}
		exam := ""
		a := builtin(t).of(img, told{})
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
	s := study(image("1", "LUNG", "", 0, ingest.Acoustic{}), image("2", "HIP", "", 0, mi(5)), image("3", "", "", 0, ingest.Acoustic{}))
	ct := image("4", "CHEST", "", 0, ingest.Acoustic{})
	ct.Series.Modality = "CT"
	s.Images = append(s.Images, ct)
	l := builtin(t)
	l.Apply(s)
	if len(s.Acoustic) != 0 {
		t.Errorf("%+v", s.Acoustic)
	}
	rows := l.Rows([]*analyse.Study{s})
	if len(rows) != 4 { // lung MI and TI, none told MI and TI
		t.Fatalf("%d rows", len(rows))
	}
	if r := rows[0]; r.Images != 1 || r.With != 0 || r.Above != 0 || r.Share.Set || r.Median.Set {
		t.Errorf("%+v", r)
	}
	if r := rows[2]; r.Exam != "" || r.Index != ingest.IndexMI || r.Limit != nil || r.Images != 2 || r.With != 1 || r.Above != 0 || r.Share.Set {
		t.Errorf("%+v", r)
	}
	(*Limits)(nil).Apply(s)
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
	for i, want := range []struct{ above, beyond int }{{2, 0}, {2, 1}, {0, 0}, {0, 0}, {0, 0}, {0, 0}} {
		if r := l.Rows([]*analyse.Study{s})[i]; r.Above != want.above || r.Beyond != want.beyond || r.Clips != 1 {
			t.Errorf("step %d: %+v", i+1, r)
		}
	}
}

func TestSoftTissue(t *testing.T) {
	img := image("1", "", "", 0, ingest.Acoustic{SoftTissue: ingest.Some(0.4), SoftTissueSurface: ingest.Some(0.9)})
	if v := valueOf(img, ingest.IndexTIS); v != ingest.Some(0.9) {
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
