package checks

import (
	"leadline/analyse"
	"leadline/ingest"
)

// ThermalIndexAboveLimit is the finding thermal-index-above-limit: images above what is recommended for their exam without a limit of time.
var ThermalIndexAboveLimit = analyse.Check{
	ID:    "thermal-index-above-limit",
	Title: "thermal index above the level without a time limit",
	Doc: "The header gives a thermal index above that up to which the exam has no recommended limit of time. Built in: TIC 0.7 for the head, TIB 0.7 " +
		"for the spine and 1.5 for heart, lung and abdomen of newborns (AIUM 2022); the ladder of times above 0.7 was seen as the obstetric one of BMUS 2009, " +
		"that it holds for the newborn head and spine is from memory. `--limits` takes a table of your own. The exam is what the header tells, never guessed. " +
		"It says nothing of harm; exposure times are not archived.",
	Advice:   "Look at the preset and how long such scans last; a physicist and local policy decide what is right for the exam.",
	Severity: analyse.Note,
	OfDevice: true,
	Run: func(s *analyse.Study) []analyse.Finding {
		return aboveLimit(s, func(i ingest.AcousticIndex) bool { return i != ingest.IndexMI })
	},
}
