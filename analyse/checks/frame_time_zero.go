package checks

import (
	"fmt"

	"leadline/analyse"
)

// FrameTimeZero is the finding frame-time-zero: a clip states a frame time of nothing.
var FrameTimeZero = analyse.Check{
	ID:    "frame-time-zero",
	Title: "a clip states a frame time of nothing",
	Doc: "Frame Time of a clip is 0 or less. 0 is allowed for a single frame only (PS3.3 C.7.6.6.1.2); a program that takes it" +
		" gets a heart rate without bound or a clip without length. Here the clip is timed by what else the header" +
		" gives. Where nothing else stands, frame-timing-missing says so.",
	Advice:   "Check a duration on this device against a clock or the ECG; ask the maker to export frame timing.",
	Severity: analyse.Warning,
	OfDevice: true,
	Run:      eachImage(frameTimeZero),
}

func frameTimeZero(img *analyse.Image) string {
	ms := img.Image.Timing.FrameTimeMS
	if img.Kind != analyse.Clip || !ms.Set || ms.Value > 0 || !img.FrameRateHz.Set {
		return ""
	}
	return fmt.Sprintf("Frame Time is %g ms in a clip of %d frames; timed otherwise, it runs at %.4g frames a second", ms.Value, img.Image.Frames, img.FrameRateHz.Value)
}
