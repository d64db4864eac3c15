package checks

import (
	"fmt"

	"leadline/analyse"
)

// ImageOutsideStudy is the finding image-outside-study: images are far later than their study.
var ImageOutsideStudy = analyse.Check{
	ID:    "image-outside-study",
	Title: "images were taken long after their study began",
	Doc: "Images were taken more than 12 hours after the study started (Study Date and Time, PS3.3 C.7.2.1), or after its first image" +
		" where that is not said. No bedside study lasts half a day (common practice, no source): a study of another day was filed here, the study was" +
		" never closed on the device, or its clock was set in between. Duration and gaps of the study are then not those of an examination.",
	Advice:   "See whether the images belong to a study of their own; close each study on the device.",
	Severity: analyse.Warning,
	Run:      imageOutsideStudy,
}

func imageOutsideStudy(s *analyse.Study) []analyse.Finding {
	if s.Timing.LongAfter == 0 {
		return nil
	}
	return one(analyse.Finding{Message: fmt.Sprintf("%d of %s with a time %s taken more than 12 hours after the study began", s.Timing.LongAfter, analyse.Counted(s.Timing.Timed, "image", "images"), analyse.Agree(s.Timing.LongAfter, "was", "were"))})
}
