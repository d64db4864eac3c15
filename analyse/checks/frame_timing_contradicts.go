package checks

import (
	"fmt"
	"math"

	"leadline/analyse"
)

// FrameTimingContradicts is the finding frame-timing-contradicts: the clip states two speeds.
var FrameTimingContradicts = analyse.Check{
	ID:    "frame-timing-contradicts",
	Title: "the clip states two speeds",
	Doc: "Cine Rate and Frame Time differ by more than 1 frame a second (Cine Rate is an integer, so up to 0.5" +
		" is rounding), or the Frame Time Vector does not have one element a frame (PS3.3 C.7.6.5.1). The " +
		"order of trust: vector, Frame Time, Cine Rate.",
	Advice:   "Check a duration on this device against a clock or the ECG.",
	Severity: analyse.Warning,
	Run:      eachImage(frameTimingContradicts),
}

func frameTimingContradicts(img *analyse.Image) string {
	if img.Kind != analyse.Clip {
		return ""
	}
	t := img.Image.Timing
	if n := len(t.FrameTimeVectorMS); n > 0 && n != img.Image.Frames {
		return fmt.Sprintf("the frame time vector has %d elements for %d frames", n, img.Image.Frames)
	}
	if t.CineRateHz.Set && t.FrameTimeMS.Value > 0 && math.Abs(1000/t.FrameTimeMS.Value-t.CineRateHz.Value) > 1 {
		return fmt.Sprintf("Cine Rate says %g frames a second, Frame Time %.4g", t.CineRateHz.Value, 1000/t.FrameTimeMS.Value)
	}
	return ""
}
