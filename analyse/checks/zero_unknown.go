package checks

import "leadline/analyse"

// ZeroUnknown is the finding zero-unknown: a region has no zero for an absolute value.
var ZeroUnknown = analyse.Check{
	ID:    "zero-unknown",
	Title: "a region has no zero for an absolute value",
	Doc: "The reference pixel of the region is absent (it is type 3 and has no default, PS3.3 C.8.5.5.1.16), " +
		"so depth or velocity at a point cannot be rebuilt; differences can.",
	Advice:   "Check the value on the picture.",
	Severity: analyse.Note,
	Run:      byReason("zero-unknown"),
}
