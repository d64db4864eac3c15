package checks

import "leadline/analyse"

// ItemPartial is the finding item-partial: a required protocol item is there in part.
var ItemPartial = analyse.Check{
	ID:       "item-partial",
	Title:    "a required protocol item is there in part",
	Doc:      "Some of what the protocol requires is there: fewer images or repeats than needed, or too short. An item of a protocol may give it another `severity`.",
	Advice:   "The note of the completeness row says what fell short.",
	Severity: analyse.Warning,
	Graded:   true,
	Run:      byStatus(analyse.Partial),
}
