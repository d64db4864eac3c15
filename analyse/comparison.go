package analyse

import (
	"leadline/analyse/physical"
	"leadline/ingest"
)

// Standing says where a value lies against limits that were published for some
// population. It is no judgement of the patient.
type Standing string

// The standings. A depending one lies inside some rows of a chart and outside
// others, and which row holds cannot be told.
const (
	StandingInside    Standing = "inside"
	StandingBelow     Standing = "below"
	StandingAbove     Standing = "above"
	StandingDepending Standing = "depending"
)

// Comparison is a value held against one row of a reference table. Rows that
// contradict each other stand side by side; none is averaged.
type Comparison struct {
	Population, Limits, Source string
	// Low and High are the limits in Unit, the unit of the value.
	Low, High ingest.Optional[float64]
	Unit      physical.Unit
	Standing  Standing
	// Close tells that a limit is nearer than the value's U (k = 2).
	Close bool
	// Untold says what the files do not tell of the population, empty where the
	// row's ages and weights are met.
	Untold string
	// Chart lists the standings by week where Standing is depending.
	Chart string
}
