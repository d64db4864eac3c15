package checks

import "leadline/analyse"

// ValueMissing is the finding value-missing: a measurement has no value.
var ValueMissing = analyse.Check{
	ID:    "value-missing",
	Title: "a measurement has no value",
	Doc: "The report holds the place of a number and no number (Measured Value Sequence empty, PS3.3 C.18.1). " +
		"Absent is not zero.",
	Advice:   "See whether it was left out on purpose.",
	Severity: analyse.Note,
	Run:      byReason("value-missing"),
}
