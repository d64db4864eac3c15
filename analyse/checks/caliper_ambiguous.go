package checks

import "leadline/analyse"

// CaliperAmbiguous is the finding caliper-ambiguous: two scales claim one caliper.
var CaliperAmbiguous = analyse.Check{
	ID:    "caliper-ambiguous",
	Title: "two scales claim one caliper",
	Doc: "Several regions hold all points and their scales differ, so the value is ambiguous and not rebuilt. " +
		"The priority flag is about pixel values, not about scale (PS3.3 C.8.5.5.1.3).",
	Advice:   "Measure outside the overlap; ask the maker.",
	Severity: analyse.Warning,
	Run:      byReason("caliper-ambiguous"),
}
