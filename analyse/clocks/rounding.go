package clocks

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"leadline/analyse"
	"leadline/ingest"
)

// UsualHeartRate is that of a newborn, per minute, by which the cost of a rounded
// frame time is told (common practice, no source).
const UsualHeartRate = 140

// rounded is what can be said of the Frame Time of one clip.
type rounded int

const (
	notAsked   rounded = iota // no Frame Time, or not of use
	exact                     // not a whole number, or confirmed by what else is said
	wasRounded                // a whole number where the header implies another
	open                      // a whole number that nothing confirms
)

// rounding asks whether frame times were rounded to whole milliseconds: 33 for
// 33.333 makes every interval 1 % too short and a heart rate 1 % too high.
func (u *unit) rounding() analyse.ClockFact {
	f := analyse.ClockFact{Aspect: analyse.AspectRounding, Unit: "/min"}
	count := map[rounded]int{}
	var worst struct{ stated, implied, lostMS float64 }
	bound := 0.0
	within := lastPlaceOf(u.clips())
	for _, img := range u.clips() {
		kind, stated, implied := frameTime(img.Image, within)
		count[kind]++
		switch {
		case kind == wasRounded && math.Abs(implied/stated-1) > math.Abs(worst.implied/max(worst.stated, 1e-9)-1), kind == wasRounded && worst.stated == 0:
			worst.stated, worst.implied = stated, implied
		case kind == open:
			bound = max(bound, 0.5/stated)
		}
		if kind == wasRounded {
			worst.lostMS = max(worst.lostMS, float64(img.Image.Frames-1)*math.Abs(implied-stated))
		}
	}
	f.N = count[exact] + count[wasRounded] + count[open]
	switch {
	case count[wasRounded] > 0:
		part := worst.implied/worst.stated - 1
		f.Verdict, f.Value = analyse.ClockLook, ingest.Some(UsualHeartRate*part)
		f.Evidence = fmt.Sprintf("%d of %s: Frame Time %g ms where the header implies %.3f ms; intervals are off by %.2f %%, a heart rate of %d/min reads %.1f, and the longest clip is off by %.0f ms",
			count[wasRounded], clipsOf(f.N), worst.stated, worst.implied, 100*(1/(1+part)-1), UsualHeartRate, UsualHeartRate*(1+part), worst.lostMS)
	case count[open] > 0:
		f.Verdict = analyse.ClockUnknown
		f.Evidence = fmt.Sprintf("%d of %s: Frame Time is a whole number of ms, and nothing in the header confirms or contradicts it; if it was rounded, a heart rate of %d/min is off by %.1f at most",
			count[open], clipsOf(f.N), UsualHeartRate, UsualHeartRate*bound)
	case f.N == 0:
		f.Verdict, f.Evidence = analyse.ClockUnknown, "no clip with a Frame Time"
	default:
		f.Verdict, f.Value = analyse.ClockSteady, ingest.Some(0.0)
		f.Evidence = fmt.Sprintf("%s: Frame Time has decimals, or what else the header says confirms it", clipsOf(f.N))
	}
	return f
}

// frameTime compares the Frame Time of a clip with what else its header implies: the
// mean of the vector, the length of the clip, then Cine Rate. Cine Rate is a whole
// number itself, so that it can confirm a frame time but never contradict one by
// less than a millisecond. durationS is half the last place of Effective Duration.
func frameTime(img *ingest.Image, durationS float64) (kind rounded, statedMS, impliedMS float64) {
	ms := img.Timing.FrameTimeMS
	if img.Frames < 2 || !ms.Set || !(ms.Value >= 1) || math.IsInf(ms.Value, 0) {
		return notAsked, 0, 0
	}
	stated := ms.Value
	if stated != math.Trunc(stated) {
		return exact, stated, stated
	}
	for _, sources := range [][]implied{byVector(img), byLength(img, durationS)} {
		if kind, value := compare(stated, sources); kind != open {
			return kind, stated, value
		}
	}
	if hz := img.Timing.CineRateHz.Value; hz > 0 && math.Abs(1000/hz-stated) < sameMS {
		return exact, stated, stated
	}
	return open, stated, 0
}

// sameMS is a difference that no rounding makes.
const sameMS = 1e-6

// implied is a frame time that something else implies, known to so much.
type implied struct{ ms, within float64 }

// byVector is the mean step. Steps that are all one whole number were rounded with
// the frame time, and say nothing about it; where they vary, the roundings of a sum
// cancel, but for one at each end.
func byVector(img *ingest.Image) []implied {
	steps, ok := vector(img)
	if !ok {
		return nil
	}
	sum, within, alike := 0.0, math.Inf(1), true
	for _, s := range steps {
		sum, within, alike = sum+s, min(within, lastPlace(s)), alike && s == steps[0]
	}
	if alike && steps[0] == math.Trunc(steps[0]) {
		return nil
	}
	n := float64(len(steps))
	return []implied{{sum / n, 2 * within / n}}
}

// byLength divides Effective Duration, in s, by the frames and by the intervals
// between them: writers do either.
func byLength(img *ingest.Image, durationS float64) []implied {
	said := img.Timing.EffectiveDurationS.Value
	if !(said > 0) || math.IsInf(said, 0) {
		return nil
	}
	n, within := float64(img.Frames), 1000*durationS
	return []implied{{1000 * said / n, within / n}, {1000 * said / (n - 1), within / (n - 1)}}
}

// lastPlaceOf is the finest last place of the Effective Durations of a device, in s:
// a device writes all to the same place, and 2 for 2.000 is only a number without its
// zeros.
func lastPlaceOf(clips []*analyse.Image) float64 {
	finest := math.Inf(1)
	for _, img := range clips {
		if said := img.Image.Timing.EffectiveDurationS; said.Set {
			finest = min(finest, lastPlace(said.Value))
		}
	}
	return finest
}

// lastPlace is half a unit of the last place that v was written to, as far as the
// number still tells: zeros at the end are lost, which makes it too wide, never too
// narrow.
func lastPlace(v float64) float64 {
	_, decimals, _ := strings.Cut(strconv.FormatFloat(v, 'f', -1, 64), ".")
	return 0.5 * math.Pow10(-len(decimals))
}

// roundingMS is the most that rounding to a whole number changes.
const roundingMS = 0.5

// confirmingMS is how well an implied frame time must be known to confirm a whole
// number: one known to 0.4 ms fits 33 as well as 33.333 (common practice, no source).
const confirmingMS = 0.1

// compare holds a whole number against what others imply: any that is known well
// enough may confirm it; else the nearest that rounds to it is what it was. One that
// fits and is not known well enough says nothing.
func compare(stated float64, sources []implied) (rounded, float64) {
	best := math.Inf(1)
	for _, s := range sources {
		off := math.Abs(s.ms - stated)
		if off <= s.within+sameMS {
			if s.within <= confirmingMS {
				return exact, stated
			}
			continue
		}
		if off <= roundingMS && off < math.Abs(best-stated) {
			best = s.ms
		}
	}
	if math.IsInf(best, 0) {
		return open, 0
	}
	return wasRounded, best
}
