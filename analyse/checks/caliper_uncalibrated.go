package checks

import "leadline/analyse"

// CaliperUncalibrated is the finding caliper-uncalibrated: a caliper lies where there is no scale.
var CaliperUncalibrated = analyse.Check{
	ID:    "caliper-uncalibrated",
	Title: "a caliper lies where there is no scale",
	Doc: "No region that holds all points has units that fit the quantity, and Pixel Spacing does not serve " +
		"there: it has no meaning inside a strip, nor where the header has none.",
	Advice:   "The number cannot be checked; measure on a calibrated image.",
	Severity: analyse.Warning,
	Run:      byReason("caliper-uncalibrated"),
}
