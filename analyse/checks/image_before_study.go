package checks

import (
	"fmt"

	"leadline/analyse"
)

// ImageBeforeStudy is the finding image-before-study: images are older than their study.
var ImageBeforeStudy = analyse.Check{
	ID:    "image-before-study",
	Title: "images were taken before their study began",
	Doc: "Study Date and Time are when the study started (PS3.3 C.7.2.1); often the worklist gives them. Images were taken more than a" +
		" minute before (common practice, no source: study times are written to the minute). The clock of the device is behind that" +
		" of the worklist, or the images belong to an earlier study. Clocks of medical devices were found 24 minutes off on average (Goldman 2012," +
		" quoted by the Pennsylvania Patient Safety Authority).",
	Advice:   "Compare the clock of the device with a clock that is set by network; see whether the images belong to this study.",
	Severity: analyse.Warning,
	OfDevice: true,
	Run:      imageBeforeStudy,
}

func imageBeforeStudy(s *analyse.Study) []analyse.Finding {
	if s.Timing.BeforeStart == 0 {
		return nil
	}
	return one(analyse.Finding{Message: fmt.Sprintf("%d of %s with a time %s taken before the study began", s.Timing.BeforeStart, analyse.Counted(s.Timing.Timed, "image", "images"), analyse.Agree(s.Timing.BeforeStart, "was", "were"))})
}
