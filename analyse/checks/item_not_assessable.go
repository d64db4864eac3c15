package checks

import "leadline/analyse"

// ItemNotAssessable is the finding item-not-assessable: a required protocol item could not be judged.
var ItemNotAssessable = analyse.Check{
	ID:    "item-not-assessable",
	Title: "a required protocol item could not be judged",
	Doc: "The files do not say what the item asks about, most often because images carry neither a view code " +
		"nor a view name. It counts neither as met nor as missing.",
	Advice:   "Have the device write view names, or label the images.",
	Severity: analyse.Note,
	Run:      byStatus(analyse.NotAssessable),
}
