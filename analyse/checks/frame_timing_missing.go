package checks

import (
	"fmt"

	"leadline/analyse"
)

// FrameTimingMissing is the finding frame-timing-missing: a clip does not say how fast it is.
var FrameTimingMissing = analyse.Check{
	ID:    "frame-timing-missing",
	Title: "a clip does not say how fast it is",
	Doc: "An ultrasound clip has neither Frame Time nor Frame Time Vector nor Cine Rate (PS3.3 C.7.6.5), so its length and" +
		" any interval between its frames are unknown. A Frame Time of 0 says nothing either.",
	Advice:   "Durations cannot be checked on this clip; ask the maker to export frame timing.",
	Severity: analyse.Warning,
	OfDevice: true,
	Run:      eachImage(frameTimingMissing),
}

// frameTimingMissing judges ultrasound only: the frames of other modalities may be
// slices, which have no interval.
func frameTimingMissing(img *analyse.Image) string {
	if img.StatedUltrasound() && img.Kind == analyse.Clip && !img.FrameRateHz.Set {
		return fmt.Sprintf("%d frames, and nothing in the header says their interval", img.Image.Frames)
	}
	return ""
}
