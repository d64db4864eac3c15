package rebuild

import (
	"fmt"
	"math"
	"slices"

	"leadline/ingest"
)

// How a strip is written, bits 3 and 4 of Region Flags (PS3.3 C.8.5.5.1.3).
const (
	sweeping             = 2
	sweepingAndScrolling = 3
)

func motion(r *ingest.Region) uint32 { return r.Flags.Value >> 3 & 3 }

// leaveGap leaves out the formulas along the time axis where the time gap of a
// sweeping strip lies between the points, or may lie there. It fails where no
// formula is left.
func (s *scale) leaveGap(img *ingest.Image, frames []int, points []ingest.Point) *failure {
	if s.region == nil || motion(s.region.Raw) < sweeping || !slices.ContainsFunc(s.formulas, func(f formula) bool { return f.timed }) {
		return nil
	}
	gap, fail := gapOf(img, s.region.Raw, frames)
	if fail == nil {
		low, high := math.Inf(1), math.Inf(-1)
		for _, p := range points {
			low, high = math.Min(low, p.X), math.Max(high, p.X)
		}
		if !(low < gap && gap < high) {
			return nil
		}
		fail = failed(ReasonAcrossRegions, "the points lie on both sides of the time gap of a sweeping strip, where the newest column meets the oldest")
	}
	var kept []formula
	for _, f := range s.formulas {
		if !f.timed {
			kept = append(kept, f)
		}
	}
	if len(kept) == 0 {
		return fail
	}
	s.formulas = kept
	s.notes.add("no time along the line: " + fail.note)
	return nil
}

// gapOf is where the newest column of a sweeping strip ends, as an image coordinate
// (PS3.3 C.8.5.5.1.16.7): Reference Pixel X0 gives it for the first frame, where its
// physical value is 0; by later frames the strip has been written on by t/Δx columns
// and begins again at the left. A strip that scrolls once it is full has no gap any
// more then; the gap is +Inf. It fails where the header does not tell the place.
func gapOf(img *ingest.Image, r *ingest.Region, frames []int) (float64, *failure) {
	if !r.RefX0.Set || !r.MinX0.Set || !r.MaxX1.Set || r.RefValueX.Value != 0 {
		return 0, failed(ReasonZeroUnknown, "the strip is written by sweeping, and no reference pixel tells where its time gap is")
	}
	columns, fail := columnsWritten(img, r, frames)
	if fail != nil {
		return 0, fail
	}
	width := float64(r.MaxX1.Value-r.MinX0.Value) + 1
	at := float64(r.RefX0.Value) + columns
	if motion(r) == sweepingAndScrolling {
		if at >= width-1 {
			return math.Inf(1), nil
		}
	} else if at = math.Mod(at, width); at < 0 {
		at += width
	}
	return float64(r.MinX0.Value) + at + 1, nil
}

// columnsWritten is how many columns the strip was written on from the first frame
// to that of the caliper.
func columnsWritten(img *ingest.Image, r *ingest.Region, frames []int) (float64, *failure) {
	switch {
	case img.Frames < 2 || len(frames) == 1 && frames[0] == 1:
		return 0, nil
	case len(frames) != 1:
		return 0, failed(ReasonAmbiguous, "the strip is written by sweeping, and which frame the caliper is on is not said")
	}
	clock, ok := clockOf(img)
	if !ok {
		return 0, failed(ReasonUncalibrated, fmt.Sprintf("the strip is written by sweeping, and without frame timing its time gap on frame %d is not known", frames[0]))
	}
	return clock.between(1, frames[0], nil).Value / math.Abs(r.DeltaX.Value), nil
}
