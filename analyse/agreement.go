package analyse

import (
	"leadline/analyse/physical"
	"leadline/ingest"
)

// Compared is what a statistic of agreement compares.
type Compared string

// The comparisons of agreement.csv.
const (
	ReportedRebuilt Compared = "reported-rebuilt"
	Repeats         Compared = "repeats"
	Observers       Compared = "observers"
)

// Statistic is one number that says how well values agree, for one device, measure
// and observer. Suspect values are in none.
type Statistic struct {
	Compared Compared
	Device   *ingest.Device
	// Measure is the canonical kind, Title what people call it.
	Measure, Title string
	// Mode is the kind of picture that the values were taken in: those of two modes are
	// in statistics of their own.
	Mode Mode
	// Observer is a person, empty where the files name none; Other is the second
	// one where two observers are compared.
	Observer, Other string
	Name            string
	Value           float64
	// Low and High are the 95 % confidence interval, absent where the statistic has none
	// or Note says why.
	Low, High ingest.Optional[float64]
	// Unit is 1 for what has none.
	Unit physical.Unit
	// N counts what the number was computed from (differences, values, images),
	// Studies the studies they come from.
	N, Studies int
	// Note says why an interval is absent that the statistic could have.
	Note string
}
