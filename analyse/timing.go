package analyse

import (
	"time"

	"leadline/ingest"
)

// Timing is when a study was made and documented, as far as its files say. Times
// are readings of the device's clock; only where files state their zone are they
// tied to UTC.
type Timing struct {
	// Timed counts the images that say when they were taken.
	Timed int
	// LongestGapS and MedianGapS are of the times from an image to the next; GapAfter
	// is the image after which the longest begins.
	LongestGapS, MedianGapS ingest.Optional[float64]
	GapAfter                *Image
	// Zone is the zone that the images state as ±HH:MM, empty where none does, and
	// "several" where they differ.
	Zone string
	// Night and Weekend say when the first image was taken; absent where that is not
	// known.
	Night, Weekend ingest.Optional[bool]
	// BeforeStart and LongAfter count images outside the study's time.
	BeforeStart, LongAfter int
	// Back are the places where times go back by more than a minute while image numbers
	// go on, within a series of one device.
	Back []BackStep
	// ReportH and VerifiedH are the hours from the last image to the first report of
	// any state and to the first verification, where the clocks can tell.
	ReportH, VerifiedH ingest.Optional[float64]
	// Notes say what could not be told, and why.
	Notes []string
}

// BackStep is an image that was taken earlier than the one numbered before it.
type BackStep struct {
	Image *Image
	By    time.Duration
}

// Taken is when an image was taken: its acquisition, else its content, where that
// has a time. Times of its series or study are not its own.
func (img *Image) Taken() (ingest.Stamp, bool) {
	for _, s := range []ingest.Stamp{img.Acquisition, img.Content} {
		if !s.IsZero() && s.HasTime {
			return s, true
		}
	}
	return ingest.Stamp{}, false
}

// DeviceClock is what the headers of one device's images say of its clocks: that
// of the frames and that of the day.
type DeviceClock struct {
	Device *ingest.Device
	// Studies, Images and Clips count what it made.
	Studies, Images, Clips int
	Facts                  []ClockFact
}

// ClockFact is one question asked of the clocks of a device, and its answer.
type ClockFact struct {
	Aspect ClockAspect
	// Against is what the clock was held against, where it was: file, study or report.
	Against string
	// Verdict is the answer in a word, Evidence the same in words, without dates,
	// names and UIDs.
	Verdict  ClockVerdict
	Evidence string
	// Value is the answer in numbers in Unit, with the robust spread of what it was
	// made from where there is one, and their number N.
	Value, Spread ingest.Optional[float64]
	Unit          string
	N             int
	// From and To name the studies between which a step lies, else are empty.
	From, To string
}

// ClockAspect is what a fact is about.
type ClockAspect string

// The aspects, in the order in which they are told.
const (
	AspectFrames   ClockAspect = "frame-intervals"
	AspectRounding ClockAspect = "frame-time-rounding"
	AspectOrder    ClockAspect = "image-order"
	AspectZone     ClockAspect = "zone"
	AspectOffset   ClockAspect = "archive-offset"
	AspectDrift    ClockAspect = "archive-drift"
	AspectStep     ClockAspect = "hour-step"
)

// ClockVerdict is the answer to a question about a clock.
type ClockVerdict string

// The verdicts: nothing to see, something that a person should look at, and what
// the headers cannot tell.
const (
	ClockSteady  ClockVerdict = "steady"
	ClockLook    ClockVerdict = "look"
	ClockUnknown ClockVerdict = "not-determinable"
)
