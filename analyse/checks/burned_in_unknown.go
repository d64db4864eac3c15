package checks

import (
	"fmt"

	"leadline/analyse"
)

// BurnedInUnknown is the finding burned-in-unknown: whether names stand in the picture is not said.
var BurnedInUnknown = analyse.Check{
	ID:    "burned-in-unknown",
	Title: "whether names stand in the picture is not said",
	Doc: "Burned In Annotation (0028,0301) says YES where the pixels may identify the patient (PS3.3 C.7.6.1); it is optional," +
		" and ultrasound pictures here leave it out. They may show a name, and measurements that no file repeats. Counted once" +
		" for the archive.",
	Advice:   "Look at a picture of each device before any picture leaves the house.",
	Severity: analyse.Note,
	OfDevice: true,
}

// BurnedInNotSaid counts over a whole archive, since nearly every ultrasound file
// leaves the element out: one finding, not one a picture. It is empty where all say
// YES or NO.
func BurnedInNotSaid(studies []*analyse.Study) string {
	unknown, all, among := 0, 0, 0
	for _, s := range studies {
		before := unknown
		for _, img := range s.Images {
			if !img.StatedUltrasound() {
				continue
			}
			all++
			if b := img.Image.BurnedIn; b != "YES" && b != "NO" {
				unknown++
			}
		}
		if unknown > before {
			among++
		}
	}
	if unknown == 0 {
		return ""
	}
	return analyse.CountedOf(unknown, fmt.Sprintf("%s, in %d of %s,", analyse.Counted(all, "ultrasound picture", "ultrasound pictures"), among, analyse.Counted(len(studies), "study", "studies")),
		"does not say", "do not say") + " whether text is burned in"
}
