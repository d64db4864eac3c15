package checks

import "leadline/analyse"

// CaliperAcrossRegions is the finding caliper-across-regions: a caliper crosses from one region into another.
var CaliperAcrossRegions = analyse.Check{
	ID:    "caliper-across-regions",
	Title: "a caliper crosses from one region into another",
	Doc: "The points lie in different calibrated regions, or leave the region they begin in. A value is " +
		"rebuilt in one calibration only. In a strip that is written by sweeping, the points lie on both sides of " +
		"its time gap (PS3.3 C.8.5.5.1.16.7).",
	Advice:   "Look at the image; set the caliper within one picture.",
	Severity: analyse.Warning,
	Run:      byReason("caliper-across-regions"),
}
