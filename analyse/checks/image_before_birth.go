package checks

import (
	"fmt"
	"time"

	"leadline/analyse"
	"leadline/ingest"
)

// ImageBeforeBirth is the finding image-before-birth: images are older than the child.
var ImageBeforeBirth = analyse.Check{
	ID:    "image-before-birth",
	Title: "images were taken before the child was born",
	Doc: "Images are dated more than a day before Patient's Birth Date (0010,0030); the day leaves room for clocks that run in another zone." +
		" Clocks of devices that lost their battery begin years ago (common practice, no source); else the birth date is wrong or the file is another" +
		" patient's. Ages, and what is compared by age, are wrong or left out. Neither date is told here.",
	Advice:   "See which is wrong, the clock of the device, the birth date, or the patient; correct it where it is entered.",
	Severity: analyse.Warning,
	Run:      imageBeforeBirth,
}

// zoneTolerance is what a clock in another zone may be off by.
const zoneTolerance = 24 * time.Hour

// imageBeforeBirth counts; how many days it is would tell the birth date.
func imageBeforeBirth(s *analyse.Study) []analyse.Finding {
	n, timed := 0, 0
	for _, img := range s.Images {
		at, ok := img.Taken()
		if !ok {
			continue
		}
		timed++
		if birth := ingest.ParseStamp(img.Patient.BirthDate, ""); !birth.IsZero() && birth.T.Sub(at.Reading()) > zoneTolerance {
			n++
		}
	}
	if n == 0 {
		return nil
	}
	return one(analyse.Finding{Message: fmt.Sprintf("%d of %s with a time %s dated before the birth date in the header", n, analyse.Counted(timed, "image", "images"), analyse.Agree(n, "is", "are"))})
}
