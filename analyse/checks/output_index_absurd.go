package checks

import (
	"fmt"

	"leadline/analyse"
	"leadline/ingest"
)

// OutputIndexAbsurd is the finding output-index-absurd: an output index that is no reading.
var OutputIndexAbsurd = analyse.Check{
	ID:    "output-index-absurd",
	Title: "output index that no device can show",
	Doc: "The header gives a Mechanical Index (0018,5022) or a thermal index (0018,5024 to 5029) that is negative, above 4 (MI) or above 12 (thermal). " +
		"That is twice what a device may put out in the United States (MI 1.9, a thermal index above 6 needs a reason; FDA 2019, from memory), in whole numbers: " +
		"the field holds something else, such as a percentage or a filling. It is shown as it stands, and in no share, median or time.",
	Advice:   "Compare with the index printed in the picture; ask the maker what is written into the field.",
	Severity: analyse.Warning,
	OfDevice: true,
	Run:      absurdIndices,
}

// absurdIndices is one finding for each index that has such values in a study, on the
// first image that does.
func absurdIndices(s *analyse.Study) []analyse.Finding {
	type tally struct {
		analyse.OutputIndex
		absurd, given int
		low, high     float64
		sop           string
	}
	var met []*tally
	byName := map[ingest.AcousticIndex]*tally{}
	for _, img := range s.Images {
		for _, x := range img.OutputIndices() {
			t := byName[x.Name]
			if t == nil {
				t = &tally{OutputIndex: x}
				byName[x.Name], met = t, append(met, t)
			}
			t.given++
			if !x.Absurd() {
				continue
			}
			if t.absurd == 0 {
				t.low, t.high, t.sop = x.Value, x.Value, img.SOPInstanceUID
			}
			t.absurd++
			t.low, t.high = min(t.low, x.Value), max(t.high, x.Value)
		}
	}
	var findings []analyse.Finding
	for _, t := range met {
		if t.absurd == 0 {
			continue
		}
		values := fmt.Sprintf("%g", t.low)
		if t.low != t.high {
			values += fmt.Sprintf(" to %g", t.high)
		}
		findings = append(findings, analyse.Finding{SOPUID: t.sop, Message: fmt.Sprintf(
			"%s below 0 or above %g on %d of %s: %s", t.Name, t.Most(), t.absurd, analyse.Counted(t.given, "image that gives it", "images that give it"), values)})
	}
	return findings
}
