// Package timing says of one study when it was made and documented: how long it
// took, where its images have gaps, at what hour, and how soon report and
// verification followed. It reads stamps of files only, never a clock of its own,
// so that a run tomorrow says the same.
package timing

import (
	"fmt"
	"slices"
	"time"

	"leadline/analyse"
	"leadline/ingest"
)

// The night lasts from NightFrom o'clock until NightTo, when the day staff is there;
// the weekend is Saturday and Sunday. Common practice, no source: units differ.
const (
	NightFrom = 20
	NightTo   = 8
)

const (
	// BeforeTolerance is how far before the start of its study an image may be: study
	// times are often written to the minute (common practice, no source).
	BeforeTolerance = time.Minute
	// LongestStudy is how long after the start of a study its last image may be taken;
	// no bedside study lasts half a day (common practice, no source).
	LongestStudy = 12 * time.Hour
)

// Of says when a study was made and documented.
func Of(s *analyse.Study) analyse.Timing {
	var t analyse.Timing
	images, at := taken(s)
	t.Timed = len(images)
	t.Zone = zoneOf(at)
	if n := len(s.Images) - len(images); n > 0 {
		t.Notes = append(t.Notes, fmt.Sprintf("%d of %s without a time at which it was taken", n, analyse.Counted(len(s.Images), "image", "images")))
	}
	gaps(&t, images, at)
	hours(&t, at)
	outside(&t, s, at)
	t.Back = backSteps(s.Images)
	documented(&t, s)
	return t
}

// taken are the images that say when they were taken, by that time, and the times.
func taken(s *analyse.Study) ([]*analyse.Image, []ingest.Stamp) {
	images := make([]*analyse.Image, 0, len(s.Images))
	for _, img := range s.Images {
		if _, ok := img.Taken(); ok {
			images = append(images, img)
		}
	}
	slices.SortStableFunc(images, func(a, b *analyse.Image) int {
		first, _ := a.Taken()
		second, _ := b.Taken()
		return first.Reading().Compare(second.Reading())
	})
	at := make([]ingest.Stamp, len(images))
	for i, img := range images {
		at[i], _ = img.Taken()
	}
	return images, at
}

// zoneOf is the zone that all stamps state.
func zoneOf(at []ingest.Stamp) string {
	zone := ""
	for i, s := range at {
		its := zoneText(s)
		if i > 0 && its != zone {
			return "several"
		}
		zone = its
	}
	return zone
}

func zoneText(s ingest.Stamp) string {
	if !s.Zone {
		return ""
	}
	sign, minutes := '+', int(s.East.Minutes())
	if minutes < 0 {
		sign, minutes = '-', -minutes
	}
	return fmt.Sprintf("%c%02d:%02d", sign, minutes/60, minutes%60)
}

func gaps(t *analyse.Timing, images []*analyse.Image, at []ingest.Stamp) {
	if len(at) < 2 {
		return
	}
	steps := make([]float64, len(at)-1)
	longest := 0
	for i := range steps {
		steps[i] = at[i+1].After(at[i]).Seconds()
		if steps[i] > steps[longest] {
			longest = i
		}
	}
	t.LongestGapS, t.GapAfter = ingest.Some(steps[longest]), images[longest]
	slices.Sort(steps)
	t.MedianGapS = ingest.Some((steps[len(steps)/2] + steps[(len(steps)-1)/2]) / 2)
}

// hours tells night and weekend by the reading of the device's clock, which is what
// the staff goes by.
func hours(t *analyse.Timing, at []ingest.Stamp) {
	if len(at) == 0 {
		return
	}
	first := at[0].Reading()
	t.Night = ingest.Some(first.Hour() >= NightFrom || first.Hour() < NightTo)
	t.Weekend = ingest.Some(first.Weekday() == time.Saturday || first.Weekday() == time.Sunday)
}

func outside(t *analyse.Timing, s *analyse.Study, at []ingest.Stamp) {
	start := s.Header.Start
	for _, a := range at {
		switch {
		case start.HasTime && start.After(a) > BeforeTolerance:
			t.BeforeStart++
		case start.HasTime && a.After(start) > LongestStudy, !start.HasTime && a.After(at[0]) > LongestStudy:
			t.LongAfter++
		}
	}
}

// documented finds the first report and the first verification.
func documented(t *analyse.Timing, s *analyse.Study) {
	for _, r := range s.Reports {
		keep(&t.ReportH, &t.Notes, "report: ", s, r.Content)
		for _, at := range analyse.VerifiedAt(r) {
			keep(&t.VerifiedH, &t.Notes, "verification: ", s, at)
		}
	}
}

// keep keeps the earlier of two delays, or notes once why one is not known.
func keep(hours *ingest.Optional[float64], notes *[]string, what string, s *analyse.Study, at ingest.Stamp) {
	h, why := s.DelayH(at)
	switch {
	case why != "" && !slices.Contains(*notes, what+why):
		*notes = append(*notes, what+why)
	case why == "" && (!hours.Set || h < hours.Value):
		*hours = ingest.Some(h)
	}
}
