package checks

import "leadline/analyse"

// ImageNotFound is the finding image-not-found: a caliper refers to an image that is not there.
var ImageNotFound = analyse.Check{
	ID:       "image-not-found",
	Title:    "a caliper refers to an image that is not there",
	Doc:      "The image that a measurement was taken from is not among the files read, so nothing can be rebuilt.",
	Advice:   "Export the whole study; the missing image may be in another folder.",
	Severity: analyse.Warning,
	Run:      byReason("image-not-found"),
}
