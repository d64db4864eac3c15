package checks

import (
	"cmp"
	"fmt"
	"math"

	"leadline/analyse"
	"leadline/ingest"
)

// FrameTimingContradicts is the finding frame-timing-contradicts: the clip states two speeds.
var FrameTimingContradicts = analyse.Check{
	ID:    "frame-timing-contradicts",
	Title: "the clip states two speeds",
	Doc: "Cine Rate and Frame Time, or either and the mean of the Frame Time Vector, differ by more than 1 frame a second " +
		"(Cine Rate is an integer, so up to 0.5 is rounding), the vector does not have one element a frame (PS3.3 " +
		"C.7.6.5.1), Effective Duration (0018,0072) is not the length of the clip to a frame and a half and 2 %, or " +
		"Actual Frame Duration (0018,1242) is longer than the frame interval. The order of trust: vector, Frame Time, " +
		"Cine Rate. A clip of which frames were left out after it was taken looks like this too.",
	Advice:   "Check a duration on this device against a clock or the ECG.",
	Severity: analyse.Warning,
	OfDevice: true,
	Run:      eachImage(frameTimingContradicts),
}

func frameTimingContradicts(img *analyse.Image) string {
	if img.Kind != analyse.Clip {
		return ""
	}
	t := &img.Image.Timing
	if n := len(t.FrameTimeVectorMS); n > 0 && n != img.Image.Frames {
		return fmt.Sprintf("the frame time vector has %s for %d frames", analyse.Counted(n, "element", "elements"), img.Image.Frames)
	}
	if hz := hertz(t.FrameTimeMS.Value); t.CineRateHz.Set && hz > 0 && math.Abs(hz-t.CineRateHz.Value) > rateToleranceHz {
		return fmt.Sprintf("Cine Rate says %g frames a second, Frame Time %.4g", t.CineRateHz.Value, hz)
	}
	rate, timed := img.FrameRateHz.Get()
	if !timed {
		return ""
	}
	return cmp.Or(vectorContradicts(&img.Image.Timing, rate), durationContradicts(img, rate))
}

const (
	// rateToleranceHz leaves room for Cine Rate, a whole number (shared reference
	// dicom-ultrasound.md, 3.3).
	rateToleranceHz = 1
	// durationFrames and durationTolerance are what Effective Duration may be off the
	// length of a clip: whether the last frame counts is not said, and rounded frame
	// times differ by up to 2 % (the shared data's README, of Cine Rate).
	durationFrames, durationTolerance = 1.5, 0.02
	// actualRoundingMS is that of Actual Frame Duration, a whole number.
	actualRoundingMS = 1
)

// vectorContradicts compares the vector, by which the clip runs at rate, with what
// else the header says.
func vectorContradicts(t *ingest.Timing, rate float64) string {
	if len(t.FrameTimeVectorMS) == 0 {
		return ""
	}
	for _, other := range []struct {
		name string
		hz   float64
	}{{"Cine Rate", t.CineRateHz.Value}, {"Frame Time", hertz(t.FrameTimeMS.Value)}} {
		if other.hz > 0 && math.Abs(other.hz-rate) > rateToleranceHz {
			return fmt.Sprintf("%s says %.4g frames a second, the frame times used %.4g", other.name, other.hz, rate)
		}
	}
	return ""
}

// hertz is the rate of a frame time; 0 stands for none.
func hertz(ms float64) float64 {
	if ms <= 0 {
		return 0
	}
	return finite(1000 / ms)
}

// durationContradicts compares the stated lengths of the clip and of a frame.
func durationContradicts(img *analyse.Image, rate float64) string {
	t, frames := &img.Image.Timing, float64(img.Image.Frames)
	if said := t.EffectiveDurationS.Value; said > 0 && math.Abs(said-frames/rate) > durationFrames/rate+durationTolerance*frames/rate {
		return fmt.Sprintf("Effective Duration says %.4g s, %d frames at %.4g a second last %.4g s", said, img.Image.Frames, rate, frames/rate)
	}
	if ms := t.ActualFrameDurationMS.Value; ms > (1+durationTolerance)*1000/rate+actualRoundingMS {
		return fmt.Sprintf("Actual Frame Duration says that a frame took %.4g ms, and the next comes after %.4g ms", ms, 1000/rate)
	}
	return ""
}
