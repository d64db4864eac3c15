package clocks

import (
	"fmt"
	"math"

	"leadline/analyse"
	"leadline/ingest"
)

const (
	// leftOut and repeated are the parts of the usual interval beyond which a step is
	// nearer to two intervals, or to none, than to one.
	leftOut, repeated = 1.5, 0.5
)

// frames asks whether the frames of clips come at even intervals. Only a Frame Time
// Vector can say: a Frame Time stands for all of them, whatever was left out.
func (u *unit) frames() analyse.ClockFact {
	f := analyse.ClockFact{Aspect: analyse.AspectFrames, Unit: "%"}
	clips := u.clips()
	mute, uneven, longSteps, shortSteps, widest := 0, 0, 0, 0, 0.0
	for _, img := range clips {
		if !img.FrameRateHz.Set {
			mute++
		}
		steps, ok := vector(img.Image)
		if !ok {
			continue
		}
		f.N++
		long, short, wide := judge(steps)
		longSteps, shortSteps, widest = longSteps+long, shortSteps+short, max(widest, wide)
		if long+short > 0 {
			uneven++
		}
	}
	switch {
	case len(clips) == 0:
		f.Verdict, f.Evidence = analyse.ClockUnknown, "no clip"
	case f.N == 0:
		f.Verdict, f.Evidence = analyse.ClockUnknown, fmt.Sprintf("%s, none with a time for each frame: frames left out or repeated do not show in the header", clipsOf(len(clips)))
	case uneven > 0:
		f.Verdict, f.Value = analyse.ClockLook, ingest.Some(100*widest)
		f.Evidence = fmt.Sprintf("%d of %s with a time for each frame: %s as long as two or more (frames left out, or taken unevenly), %d of next to nothing (a frame repeated)", uneven, clipsOf(f.N), analyse.Counted(longSteps, "step", "steps"), shortSteps)
	default:
		f.Verdict, f.Value = analyse.ClockSteady, ingest.Some(100*widest)
		f.Evidence = fmt.Sprintf("%s with a time for each frame; the widest step is off the median by so much", clipsOf(f.N))
	}
	if mute > 0 {
		f.Evidence += fmt.Sprintf("; %s without frame timing", clipsOf(mute))
	}
	return f
}

// vector are the steps between the frames of a clip in ms, where it gives each.
func vector(img *ingest.Image) ([]float64, bool) {
	v := img.Timing.FrameTimeVectorMS
	if len(v) != img.Frames || len(v) < 3 {
		return nil, false
	}
	for _, step := range v[1:] {
		if !(step >= 0) || math.IsInf(step, 0) {
			return nil, false
		}
	}
	return v[1:], true
}

// judge counts the steps that are too long and too short, and tells the widest
// deviation from the median, as a part of it.
func judge(steps []float64) (long, short int, widest float64) {
	usual, _ := middle(steps)
	if !(usual > 0) {
		return 0, len(steps), 0
	}
	for _, step := range steps {
		part := step / usual
		widest = max(widest, math.Abs(part-1))
		switch {
		case part > leftOut:
			long++
		case part < repeated:
			short++
		}
	}
	return long, short, widest
}
