package checks

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"leadline/analyse"
	"leadline/ingest"
	"leadline/ingest/report"
)

// picture is taken at a moment of 7 September 2026, by a device of the serial number.
func picture(serial, clock string) *analyse.Image {
	at := ingest.ParseStamp("20260907", clock)
	return &analyse.Image{Acquired: at, Instance: &ingest.Instance{SOPInstanceUID: "2.25." + serial + clock, Acquisition: at,
		Device: &ingest.Device{Serial: serial}, Patient: &ingest.Patient{}, Series: &ingest.Series{Modality: "US"}, Image: &ingest.Image{}}}
}

func studyWith(images ...*analyse.Image) *analyse.Study {
	s := &analyse.Study{UID: "2.25.1", Images: images}
	if len(images) > 0 {
		s.First, s.Last = images[0].Acquired, images[len(images)-1].Acquired
	}
	return s
}

func messages(findings []analyse.Finding) string {
	var all []string
	for _, f := range findings {
		all = append(all, f.Message)
	}
	return strings.Join(all, "; ")
}

// TestClockChecks has a hit and a near miss of each.
func TestClockChecks(t *testing.T) {
	created := func(img *analyse.Image, clock string) *analyse.Image {
		img.Created = ingest.ParseStamp("20260907", clock)
		return img
	}
	born := func(date string) *analyse.Image {
		img := picture("1", "100000")
		img.Patient.BirthDate = date
		return img
	}
	reported := func(written, verified string) *analyse.Study {
		s := studyWith(picture("1", "100000"), picture("1", "101000"))
		s.Reports = []*ingest.Instance{{Content: ingest.ParseStamp("20260907", written), Report: &report.Document{Verifications: []report.Verification{{DateTime: "20260907" + verified}}}}}
		return s
	}
	zoned := reported("080000", "120000")
	zoned.Reports[0].Content = ingest.ParseDateTime("20260907080000+0200")
	counted := func(change func(*analyse.Timing)) *analyse.Study {
		s := studyWith(picture("1", "100000"))
		s.Timing.Timed = 1
		change(&s.Timing)
		return s
	}
	for _, c := range []struct {
		check *analyse.Check
		study *analyse.Study
		want  string
	}{
		{&ImageBeforeStudy, counted(func(t *analyse.Timing) { t.BeforeStart = 1 }), "1 of 1 image with a time was taken before the study began"},
		{&ImageBeforeStudy, counted(func(*analyse.Timing) {}), ""},
		{&ImageOutsideStudy, counted(func(t *analyse.Timing) { t.LongAfter = 1 }), "1 of 1 image with a time was taken more than 12 hours after the study began"},
		{&ImageOutsideStudy, counted(func(*analyse.Timing) {}), ""},
		{&ImageOrderBackward, counted(func(t *analyse.Timing) { t.Back = []analyse.BackStep{{By: 55 * time.Minute}} }), "times go back once while image numbers go on, by 55 min"},
		{&ImageOrderBackward, counted(func(t *analyse.Timing) { t.Back = []analyse.BackStep{{By: 5 * time.Minute}, {By: 150 * time.Minute}} }), "times go back 2 times while image numbers go on, by up to 2.5 h"},
		{&ImageAfterCreation, studyWith(created(picture("1", "100130"), "100000")), "taken 2 min after its file was made"},
		{&ImageAfterCreation, studyWith(created(picture("1", "100100"), "100000")), ""},
		{&ImageAfterCreation, studyWith(picture("1", "100100")), ""},
		{&ImageBeforeBirth, studyWith(born("20260909"), born("20260801")), "1 of 2 images with a time is dated before the birth date in the header"},
		{&ImageBeforeBirth, studyWith(born("20260908")), ""},
		{&ImageBeforeBirth, studyWith(born("unknown")), ""},
		{&DeviceClocksApart, studyWith(picture("1", "100000"), picture("1", "101000"), picture("2", "114000")), "images of 2 devices; 90 min lie between those of one and of the next"},
		{&DeviceClocksApart, studyWith(picture("1", "100000"), picture("1", "101000"), picture("2", "111000")), ""},
		{&DeviceClocksApart, studyWith(picture("1", "100000"), picture("2", "103000"), picture("1", "150000")), ""},
		{&DeviceClocksApart, studyWith(picture("1", "100000"), picture("1", "150000")), ""},
		{&ReportTimeImpossible, reported("093000", "120000"), "the report was written 30 min before the first image"},
		{&ReportTimeImpossible, reported("110000", "103000"), "the report was verified 30 min before it was written"},
		{&ReportTimeImpossible, reported("100500", "100430"), ""},
		{&ReportTimeImpossible, zoned, ""},
	} {
		if got := messages(c.check.Run(c.study)); got != c.want {
			t.Errorf("%s: %q, want %q", c.check.ID, got, c.want)
		}
	}
}

// TestDatesApart: one study of twelve a year and two days later is told, one a month
// later is not, and scattered studies are no archive.
func TestDatesApart(t *testing.T) {
	archive := func(dates ...string) []*analyse.Study {
		var list []*analyse.Study
		for i := range 11 {
			dates = append(dates, fmt.Sprintf("202609%02d", i+1))
		}
		for i, d := range dates {
			list = append(list, &analyse.Study{UID: fmt.Sprint(i), Start: ingest.ParseStamp(d, "")})
		}
		return list
	}
	for _, c := range []struct {
		dates []string
		want  string
	}{
		{[]string{"20270913"}, "the study is dated 367 days after the last of the others"},
		{[]string{"20000101"}, "the study is dated 9740 days before the first of the others"},
		{[]string{"20270912"}, ""},
		{[]string{"20270913", "20290101"}, ""}, // 11 of 13 are no nine tenths
	} {
		if got := messages(DatesApart(archive(c.dates...))); got != c.want {
			t.Errorf("%v: %q, want %q", c.dates, got, c.want)
		}
	}
	if got := DatesApart(archive("20270913")[1:8]); len(got) != 0 {
		t.Errorf("an archive of seven: %v", got)
	}
}

// TestZonesMissing counts a device once, and only images that have a time.
func TestZonesMissing(t *testing.T) {
	zoned, mute := picture("2", "100000"), picture("3", "")
	zoned.Acquisition = ingest.ParseDateTime("20260907100000+0200")
	mute.Acquisition = ingest.Stamp{}
	got := ZonesMissing([]*analyse.Study{studyWith(picture("1", "100000"), picture("1", "100100"), zoned, mute), studyWith(picture("1", "110000"))})
	if len(got) != 1 || got[0].Device.Serial != "1" || got[0].ID != "zone-missing" || got[0].Message != "3 of its 3 images with a time state no time zone; in 2 studies" {
		t.Errorf("%+v", got)
	}
}
