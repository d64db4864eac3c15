package checks

import "leadline/analyse"

// CaliperDegenerate is the finding caliper-degenerate: a caliper has no extent or crosses itself.
var CaliperDegenerate = analyse.Check{
	ID:    "caliper-degenerate",
	Title: "a caliper has no extent or crosses itself",
	Doc: "Points coincide, are too few for their shape, or an outline crosses itself or has all points on one line, so that no value or no " +
		"uncertainty follows from them.",
	Advice:   "Set the caliper again.",
	Severity: analyse.Warning,
	Run:      byReason("caliper-degenerate"),
}
