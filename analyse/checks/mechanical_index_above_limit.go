package checks

import (
	"fmt"

	"leadline/analyse"
	"leadline/ingest"
)

// MechanicalIndexAboveLimit is the finding mechanical-index-above-limit: images above what is recommended for their exam.
var MechanicalIndexAboveLimit = analyse.Check{
	ID:    "mechanical-index-above-limit",
	Title: "mechanical index above what is recommended for the exam",
	Doc: "The header gives a Mechanical Index (0018,5022) above the recommended limit for the kind of exam that is told " +
		"(by a label, Body Part Examined, anatomic region, view or descriptions; none is guessed). Built in: 0.3 for the lung and the heart of newborns (BMUS 2009, " +
		"lung in the beam); `--limits` takes a table of your own. Above it the output should be turned down where the picture allows, and the scan kept short. " +
		"Published surveys find most newborn heart scans above it. It says nothing of harm, and an archive holds a sample of what was scanned.",
	Advice:   "Look at the preset: as low as reasonably achievable; a physicist and local policy decide what is right for the exam.",
	Severity: analyse.Note,
	OfDevice: true,
	Run: func(s *analyse.Study) []analyse.Finding {
		return aboveLimit(s, func(i ingest.AcousticIndex) bool { return i == ingest.IndexMI })
	},
}

// aboveLimit are the findings of a study about some of the output indices.
func aboveLimit(s *analyse.Study, of func(ingest.AcousticIndex) bool) []analyse.Finding {
	var findings []analyse.Finding
	for i := range s.Acoustic {
		x := &s.Acoustic[i]
		if !of(x.Index) {
			continue
		}
		message := fmt.Sprintf("%s above %g on %d of %d images that give it, the largest %.3g; exam %s by %s", x.Index, x.Lowest.Above, x.Above, x.With, x.Max, x.Exam, x.Told)
		switch minutes, ok := x.Highest.Minutes.Get(); {
		case ok && minutes == 0:
			message += fmt.Sprintf("; above %g not recommended", x.Highest.Above)
		case ok:
			message += fmt.Sprintf("; above %g at most %g minutes recommended", x.Highest.Above, minutes)
		}
		findings = append(findings, analyse.Finding{SOPUID: x.SOPUID, Message: message + fmt.Sprintf(" (%s: %s)", x.Highest.Seen, x.Highest.Source)})
	}
	return findings
}
