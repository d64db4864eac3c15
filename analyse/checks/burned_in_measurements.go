package checks

import (
	"fmt"

	"leadline/analyse"
)

// BurnedInMeasurements is the finding burned-in-measurements: measurements may stand only in the picture.
var BurnedInMeasurements = analyse.Check{
	ID:    "burned-in-measurements",
	Title: "measurements may stand only in the picture",
	Doc: "The study holds no measurement in a form that can be read, and pictures marked as having text burned" +
		" in (Burned In Annotation YES). Numbers drawn into a picture are not read, and not guessed.",
	Advice: "Have the device export a structured report or presentation state, or enter the calipers as a caliper" +
		" table.",
	Severity: analyse.Note,
	Run:      burnedInMeasurements,
}

func burnedInMeasurements(s *analyse.Study) []analyse.Finding {
	if len(s.Measurements) > 0 {
		return nil
	}
	n := 0
	for _, img := range s.Images {
		if img.Image.BurnedIn == "YES" {
			n++
		}
	}
	if n == 0 {
		return nil
	}
	return one(analyse.Finding{Message: fmt.Sprintf("no measurement can be read in this study; %d of its pictures %s text burned in", n, analyse.Agree(n, "has", "have"))})
}
