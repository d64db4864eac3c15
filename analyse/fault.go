package analyse

import "strings"

// FaultKind is a typical fault of devices, exports and hands that makes a reported
// value differ from its caliper.
type FaultKind string

// The faults that are looked for.
const (
	FaultPowerOfTen   FaultKind = "power-of-ten"
	FaultResampled    FaultKind = "resampled"
	FaultSwapped      FaultKind = "spacing-swapped"
	FaultOtherRegion  FaultKind = "other-region"
	FaultOtherTiming  FaultKind = "other-timing"
	FaultOtherSpacing FaultKind = "other-spacing"
)

// Fault is one that would explain a difference: with it, reported and rebuilt value
// agree within their tolerance. It is evidence, not proof, and nothing is corrected
// by it. Evidence says in words what agrees with what.
type Fault struct {
	Kind     FaultKind
	Evidence string
}

// FaultWords names all faults in one sentence without a full stop, empty where there
// is none.
func FaultWords(faults []Fault) string {
	if len(faults) == 0 {
		return ""
	}
	words := make([]string, len(faults))
	for i, f := range faults {
		words[i] = f.Evidence
	}
	return "the reported value would agree with " + strings.Join(words, ", or with ")
}
