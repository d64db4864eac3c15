package checks

import "leadline/analyse"

// CaliperAcrossRegions is the finding caliper-across-regions: a caliper crosses from one region into another.
var CaliperAcrossRegions = analyse.Check{
	ID:    "caliper-across-regions",
	Title: "a caliper crosses from one region into another",
	Doc: "The points lie in different calibrated regions, or leave the region they begin in. A value is " +
		"rebuilt in one calibration only.",
	Advice:   "Look at the image; set the caliper within one picture.",
	Severity: analyse.Warning,
	Run:      byReason("caliper-across-regions"),
}
