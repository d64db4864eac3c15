package checks

import "leadline/analyse"

// LabelImageNotFound is the finding label-image-not-found: a label is of an image that is not there.
var LabelImageNotFound = analyse.Check{
	ID:    "label-image-not-found",
	Title: "a label is of an image that is not there",
	Doc: "The image that a row of a study table (`--labels`) names is not among the files read, or its path is the end of several: " +
		"the row serves nothing.",
	Advice:   "Compare the row with the images table: a SOP Instance UID, or enough of the path, names one image.",
	Severity: analyse.Warning,
}
