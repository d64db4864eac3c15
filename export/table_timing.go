package export

import (
	"fmt"
	"strings"

	"leadline/analyse"
	"leadline/analyse/timing"
	"leadline/export/deid"
)

// nightHours says what counts as night.
var nightHours = fmt.Sprintf("%d:00 to %d:00", timing.NightFrom, timing.NightTo)

func (w *writer) timing() Table {
	ofTiming := func(make func(*analyse.Timing) Cell) func(*studyRow) Cell {
		return func(s *studyRow) Cell { return make(&s.Timing) }
	}
	d := definition[*studyRow]{
		name: "timing", title: "Timing",
		about:   "One row for each study: when it was made and documented. Times are those of the device's clock, which nobody has checked.",
		subject: func(s *studyRow) *deid.Subject { return s.about },
		columns: []column[*studyRow]{
			studyNumber(itself),
			studyDate(itself),
			studyUID(itself),
			{Column: Column{Name: "first_image", Heading: "First image", Kind: Moment, Width: 18, Place: Front, Rule: deid.Stamp, Meaning: "When the first image was acquired, by the device's clock."},
				cell: func(s *studyRow) Cell { return moment(s.First) }},
			{Column: Column{Name: "zone", Heading: "Zone", Kind: Text, Width: 9, Place: Front, Meaning: "Time zone that the images state (Timezone Offset From UTC, (0008,0201), or with Acquisition DateTime); absent where none does, \"several\" where they differ."},
				cell: ofTiming(func(t *analyse.Timing) Cell { return text(t.Zone) })},
			{Column: Column{Name: "night", Heading: "Night", Kind: Flag, Width: 9, Place: Front, Meaning: "Whether the first image was taken from " + nightHours + " (common practice, no source: units differ), by the device's clock. Absent where no image says when it was taken."},
				cell: ofTiming(func(t *analyse.Timing) Cell { return optionalFlag(t.Night) })},
			{Column: Column{Name: "weekend", Heading: "Weekend", Kind: Flag, Width: 10, Place: Front, Meaning: "Whether it was taken on a Saturday or Sunday."},
				cell: ofTiming(func(t *analyse.Timing) Cell { return optionalFlag(t.Weekend) })},
			{Column: Column{Name: "images_timed", Heading: "Images with time", Kind: Integer, Width: 12, Place: Front, Meaning: "Images that say when they were taken: Acquisition, else Content Date and Time."},
				cell: ofTiming(func(t *analyse.Timing) Cell { return count(t.Timed) })},
			{Column: Column{Name: "duration_s", Heading: "Duration (s)", Kind: Number, Unit: "s", Width: 12, Place: Front, Meaning: "Time from the first to the last image."},
				cell: func(s *studyRow) Cell { return optional(s.DurationS) }},
			{Column: Column{Name: "median_gap_s", Heading: "Median gap (s)", Kind: Number, Unit: "s", Width: 11, Place: Front, Places: 0, Meaning: "Median of the times from the start of an image to that of the next."},
				cell: ofTiming(func(t *analyse.Timing) Cell { return optional(t.MedianGapS) })},
			{Column: Column{Name: "longest_gap_s", Heading: "Longest gap (s)", Kind: Number, Unit: "s", Width: 10, Place: Front, Places: 0, Meaning: "Longest of these times."},
				cell: ofTiming(func(t *analyse.Timing) Cell { return optional(t.LongestGapS) })},
			{Column: Column{Name: "longest_gap_after", Heading: "Longest gap after image", Kind: Integer, Width: 12, Place: Front, Meaning: "Instance number of the image after which it begins."},
				cell: ofTiming(func(t *analyse.Timing) Cell {
					if t.GapAfter == nil || !t.GapAfter.InstanceNumber.Set {
						return Cell{}
					}
					return integer(t.GapAfter.InstanceNumber.Value)
				})},
			{Column: Column{Name: "images_before_start", Heading: "Images before the study", Kind: Integer, Width: 11, Place: Front, Signal: CautionIfAny, Meaning: "Images taken more than a minute before the study began."},
				cell: ofTiming(func(t *analyse.Timing) Cell { return count(t.BeforeStart) })},
			{Column: Column{Name: "images_long_after", Heading: "Images long after", Kind: Integer, Width: 10, Place: Front, Signal: CautionIfAny, Meaning: "Images taken more than 12 hours after the study began."},
				cell: ofTiming(func(t *analyse.Timing) Cell { return count(t.LongAfter) })},
			{Column: Column{Name: "steps_back", Heading: "Steps back", Kind: Integer, Width: 8, Place: Front, Signal: CautionIfAny, Meaning: "How often times go back by more than a minute while image numbers go on."},
				cell: ofTiming(func(t *analyse.Timing) Cell { return count(len(t.Back)) })},
			{Column: Column{Name: "report_h", Heading: "Report after (h)", Kind: Number, Unit: "h", Width: 10, Places: 1, Place: Front, Meaning: "Hours from the last image to the first report of any state (Content Date and Time); absent where there is none or the clocks cannot tell."},
				cell: ofTiming(func(t *analyse.Timing) Cell { return optional(t.ReportH) })},
			{Column: Column{Name: "verified_h", Heading: "Verified after (h)", Kind: Number, Unit: "h", Width: 10, Places: 1, Place: Front, Meaning: "Hours from the last image to the first Verification DateTime (0040,A030)."},
				cell: ofTiming(func(t *analyse.Timing) Cell { return optional(t.VerifiedH) })},
			{Column: Column{Name: "note", Heading: "Note", Kind: Text, Width: 40, Wrap: true, Place: Front, Meaning: "What could not be told, and why."},
				cell: ofTiming(func(t *analyse.Timing) Cell { return text(strings.Join(t.Notes, listSeparator)) })},
		},
	}
	return d.table(w.rules, len(w.rows), func(yield func(*studyRow) bool) {
		for _, r := range w.rows {
			if !yield(r) {
				return
			}
		}
	})
}
