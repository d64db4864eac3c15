package checks

import (
	"fmt"

	"leadline/analyse"
)

// WeightImplausible is the finding weight-implausible: the weight cannot be a newborn in kilograms.
var WeightImplausible = analyse.Check{
	ID:    "weight-implausible",
	Title: "the weight cannot be a newborn in kilograms",
	Doc: "Patient's Weight (0010,1030) is in kilograms (PS3.3 C.7.2.2). Grams in this field are a frequent " +
		"error on newborn units (common practice, no source); output per kilogram would be wrong a " +
		"thousandfold.",
	Advice:   "Correct the weight at the device; indices per kilogram of this study are not derived.",
	Severity: analyse.Warning,
	Run:      weightImplausible,
}

// The bounds of a newborn or small infant in kilograms: the lightest survivors
// weigh above 0.2, and 10 is the weight of a one-year-old (common practice, no source).
const (
	lightestKg = 0.2
	heaviestKg = 10
)

// weightImplausible judges the weight that the study states; absence is no finding.
func weightImplausible(s *analyse.Study) []analyse.Finding {
	kg, ok := s.Patient.WeightKg.Get()
	if !ok || PlausibleWeight(kg) {
		return nil
	}
	return one(analyse.Finding{Message: fmt.Sprintf("the weight in the header is outside %g to %d kg: in grams, or no newborn?", lightestKg, heaviestKg)})
}

// PlausibleWeight tells whether kg can be a newborn's weight in kilograms.
func PlausibleWeight(kg float64) bool { return kg >= lightestKg && kg <= heaviestKg }
