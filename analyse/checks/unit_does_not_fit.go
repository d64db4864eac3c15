package checks

import "leadline/analyse"

// UnitDoesNotFit is the finding unit-does-not-fit: a reported unit does not fit its measurement.
var UnitDoesNotFit = analyse.Check{
	ID:    "unit-does-not-fit",
	Title: "a reported unit does not fit its measurement",
	Doc: "The unit of a reported number is missing, unknown, or of another quantity than its caliper can give " +
		"(a length in unit 1, a velocity on a 2D picture).",
	Advice:   "Read the number with care; correct the unit at the device that writes the report.",
	Severity: analyse.Warning,
	Run:      byReason("unit-does-not-fit"),
}
