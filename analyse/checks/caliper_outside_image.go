package checks

import "leadline/analyse"

// CaliperOutsideImage is the finding caliper-outside-image: a caliper lies outside its picture.
var CaliperOutsideImage = analyse.Check{
	ID:    "caliper-outside-image",
	Title: "a caliper lies outside its picture",
	Doc: "Points of a caliper lie outside the picture they were set on. The points belong to another image or " +
		"to another size of it; nothing is rebuilt.",
	Advice:   "See which image the caliper was set on.",
	Severity: analyse.Error,
	Run:      byReason("caliper-outside-image"),
}
