package checks

import "leadline/analyse"

// ItemPartial is the finding item-partial: a required protocol item is there in part.
var ItemPartial = analyse.Check{
	ID:       "item-partial",
	Title:    "a required protocol item is there in part",
	Doc:      "Some of what the protocol requires is there: fewer images or repeats than needed, or too short.",
	Advice:   "The note of the completeness row says what fell short.",
	Severity: analyse.Warning,
	Run:      byStatus(analyse.Partial),
}
