package timing

import (
	"math"
	"testing"
	"time"

	"leadline/analyse"
	"leadline/ingest"
	"leadline/ingest/report"
)

// image is taken at a date and time, in a zone where one is given.
func image(number int64, at ingest.Stamp) *analyse.Image {
	return &analyse.Image{Instance: &ingest.Instance{InstanceNumber: ingest.Some(number), Acquisition: at, Device: &ingest.Device{Serial: "1"},
		Series: &ingest.Series{}, Image: &ingest.Image{}}, Acquired: at}
}

func at(date, clock string) ingest.Stamp { return ingest.ParseStamp(date, clock) }

func studyOf(start ingest.Stamp, images ...*analyse.Image) *analyse.Study {
	s := &analyse.Study{Header: &ingest.Study{Start: start}, Start: start, Images: images}
	if len(images) > 0 {
		s.First, s.Last = images[0].Acquired, images[len(images)-1].Acquired
	}
	return s
}

// Gaps of 60, 20 and 300 s: the median is 60, the longest begins after image 3.
func TestGaps(t *testing.T) {
	start := at("20260907", "100000")
	got := Of(studyOf(start, image(1, at("20260907", "100100")), image(2, at("20260907", "100200")), image(3, at("20260907", "100220")), image(4, at("20260907", "100720"))))
	if got.MedianGapS.Value != 60 || got.LongestGapS.Value != 300 || got.GapAfter == nil || got.GapAfter.InstanceNumber.Value != 3 || got.Timed != 4 {
		t.Errorf("%+v", got)
	}
	if one := Of(studyOf(start, image(1, start))); one.MedianGapS.Set || one.GapAfter != nil {
		t.Errorf("gaps of one image: %+v", one)
	}
	mute := Of(studyOf(start, image(1, ingest.Stamp{})))
	if mute.Timed != 0 || mute.Night.Set || len(mute.Notes) != 1 {
		t.Errorf("an image without time: %+v", mute)
	}
}

// Night and weekend go by the reading of the clock on the spot, at the bounds and
// across zones: 5 September 2026 is a Saturday (calendar).
func TestHours(t *testing.T) {
	zoned := ingest.ParseDateTime("20260905003000+0200") // 4 September 22:30 UTC, a Friday
	for _, c := range []struct {
		at             ingest.Stamp
		night, weekend bool
	}{
		{at("20260904", "195959"), false, false}, {at("20260904", "200000"), true, false},
		{at("20260905", "075959"), true, true}, {at("20260905", "080000"), false, true},
		{at("20260906", "120000"), false, true}, {at("20260907", "120000"), false, false},
		{zoned, true, true},
	} {
		got := Of(studyOf(c.at, image(1, c.at)))
		if got.Night != ingest.Some(c.night) || got.Weekend != ingest.Some(c.weekend) {
			t.Errorf("%v: night %v, weekend %v", c.at, got.Night, got.Weekend)
		}
	}
	if got := Of(studyOf(zoned, image(1, zoned))); got.Zone != "+02:00" {
		t.Errorf("zone %q", got.Zone)
	}
	if got := Of(studyOf(zoned, image(1, zoned), image(2, ingest.ParseDateTime("20260905003000-0330")))); got.Zone != "several" {
		t.Errorf("zone %q", got.Zone)
	}
}

// A minute before and half a day after the start are within the study, a second more
// is not.
func TestOutside(t *testing.T) {
	start := at("20260907", "100000")
	got := Of(studyOf(start, image(1, at("20260907", "095900")), image(2, at("20260907", "095859")), image(3, at("20260907", "220000")), image(4, at("20260907", "220001"))))
	if got.BeforeStart != 1 || got.LongAfter != 1 {
		t.Errorf("%+v", got)
	}
	dateless := Of(studyOf(at("20260907", ""), image(1, at("20260907", "010000")), image(2, at("20260907", "140000"))))
	if dateless.BeforeStart != 0 || dateless.LongAfter != 1 {
		t.Errorf("study without a time: %+v", dateless)
	}
}

// Times that go back by more than a minute while numbers go on count, those of copies
// made afterwards and of other devices do not.
func TestBack(t *testing.T) {
	start := at("20260907", "100000")
	first, back := image(1, at("20260907", "110000")), image(2, at("20260907", "100500"))
	slight, copied, other := image(3, at("20260907", "100401")), image(4, at("20260907", "090000")), image(5, at("20260907", "080000"))
	copied.Image.ImageType = []string{"DERIVED", "SECONDARY"}
	other.Device = &ingest.Device{Serial: "2"}
	got := Of(studyOf(start, first, back, slight, copied, other))
	if len(got.Back) != 1 || got.Back[0].Image != back || got.Back[0].By != 55*time.Minute {
		t.Errorf("%+v", got.Back)
	}
}

// A minute back is within the tolerance, a second more is not; a copy made afterwards
// keeps the time of its original, whichever word says that it is one.
func TestBackBounds(t *testing.T) {
	start := at("20260907", "100000")
	for clock, want := range map[string]int{"100500": 0, "100459": 1} {
		got := Of(studyOf(start, image(1, at("20260907", "100600")), image(2, at("20260907", clock))))
		if len(got.Back) != want {
			t.Errorf("at %s: %+v, want %d", clock, got.Back, want)
		}
	}
	for _, kind := range [][]string{{"DERIVED", "PRIMARY"}, {"ORIGINAL", "SECONDARY"}} {
		copied := image(2, at("20260907", "090000"))
		copied.Image.ImageType = kind
		if got := Of(studyOf(start, image(1, at("20260907", "100600")), copied)); len(got.Back) != 0 {
			t.Errorf("%q: %+v", kind, got.Back)
		}
	}
}

// The verification without a zone is in that of its report; of several the first
// counts. A report of another zone state is not compared.
func TestDocumented(t *testing.T) {
	taken := ingest.ParseDateTime("20260907100000+0200")
	s := studyOf(taken, image(1, taken))
	s.Reports = []*ingest.Instance{
		{Content: ingest.ParseDateTime("20260907093000+0100"), Report: &report.Document{Verifications: []report.Verification{{DateTime: "20260907100000"}, {DateTime: "20260907110000+0200"}}}},
		{Content: at("20260907", "120000"), Report: &report.Document{}},
	}
	got := Of(s)
	if math.Abs(got.ReportH.Value-0.5) > 1e-12 || math.Abs(got.VerifiedH.Value-1) > 1e-12 {
		t.Errorf("report after %v h, verified after %v h", got.ReportH, got.VerifiedH)
	}
	if len(got.Notes) != 1 {
		t.Errorf("notes %q", got.Notes)
	}
}
