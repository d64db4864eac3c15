package checks

import (
	"fmt"
	"time"

	"leadline/analyse"
)

// ImageOrderBackward is the finding image-order-backward: later numbers, earlier times.
var ImageOrderBackward = analyse.Check{
	ID:    "image-order-backward",
	Title: "images count up while their times go back",
	Doc: "Within a series of one device, an image with a higher Instance Number was taken more than a minute earlier than one with a lower number" +
		" (tolerance: common practice, no source). A clock that was set back during the study looks like this; so does a device that" +
		" numbers images in another order, for instance after review. Copies made afterwards (Image Type DERIVED or SECONDARY) are not judged. PS3.17 R.6 lets" +
		" the time of synchronised equipment step back rarely, and by parts of a second only.",
	Advice:   "See whether the clock of the device was set on that day; durations between images of this study are doubtful.",
	Severity: analyse.Note,
	OfDevice: true,
	Run:      imageOrderBackward,
}

func imageOrderBackward(s *analyse.Study) []analyse.Finding {
	longest := time.Duration(0)
	for _, step := range s.Timing.Back {
		longest = max(longest, step.By)
	}
	switch n := len(s.Timing.Back); n {
	case 0:
		return nil
	case 1:
		return one(analyse.Finding{Message: fmt.Sprintf("times go back once while image numbers go on, by %s", spell(longest))})
	default:
		return one(analyse.Finding{Message: fmt.Sprintf("times go back %s while image numbers go on, by up to %s", analyse.Counted(n, "time", "times"), spell(longest))})
	}
}
