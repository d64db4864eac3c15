package checks

import (
	"fmt"
	"strings"

	"leadline/analyse"
)

// SecondaryCapture is the finding secondary-capture: pictures were taken off a screen or made afterwards.
var SecondaryCapture = analyse.Check{
	ID:    "secondary-capture",
	Title: "pictures were taken off a screen or made afterwards",
	Doc: "Pictures of the study are of a Secondary Capture class (PS3.3 A.8), or ultrasound pictures whose Image Type names " +
		"them SECONDARY, made after the examination (PS3.3 C.7.6.1.1.2). Such copies may have been resampled, and a" +
		" scale beside them may be that of the picture before.",
	Advice:   "Measure on the original where it exists; check the scale against the marks in the picture.",
	Severity: analyse.Note,
	OfDevice: true,
	Run:      secondaryCapture,
}

// secondaryClass begins every Secondary Capture class (PS3.4 B.5).
const secondaryClass = "1.2.840.10008.5.1.4.1.1.7"

// secondaryCapture says it once a study: an export that does it does it to all.
func secondaryCapture(s *analyse.Study) []analyse.Finding {
	captures, made := 0, 0
	for _, img := range s.Images {
		kind := img.Image.ImageType
		switch {
		case img.SOPClassUID == secondaryClass || strings.HasPrefix(img.SOPClassUID, secondaryClass+"."):
			captures++
		case len(kind) > 1 && kind[1] == "SECONDARY" && img.StatedUltrasound():
			made++
		}
	}
	if captures+made == 0 {
		return nil
	}
	return one(analyse.Finding{Message: fmt.Sprintf("%d of %d pictures: %d of a Secondary Capture class, %d named SECONDARY by Image Type", captures+made, len(s.Images), captures, made)})
}
