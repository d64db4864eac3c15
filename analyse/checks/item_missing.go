package checks

import "leadline/analyse"

// ItemMissing is the finding item-missing: a required protocol item is missing.
var ItemMissing = analyse.Check{
	ID:    "item-missing",
	Title: "a required protocol item is missing",
	Doc: "The protocol requires an image, measurement, header fact or report state that the study does not " +
		"hold. An item of a protocol may give it another `severity`.",
	Advice:   "Record it next time; the completeness table has the evidence.",
	Severity: analyse.Warning,
	Graded:   true,
	Run:      byStatus(analyse.Missing),
}
