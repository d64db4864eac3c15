package deid

import (
	"fmt"
	"testing"
)

// TestManyPatients: looking for the names of thousands of patients takes no more than
// looking for those of one. It took minutes for a study of 20,000.
func TestManyPatients(t *testing.T) {
	var patients []Identifiers
	for i := range 5000 {
		patients = append(patients, Identifiers{Name: fmt.Sprintf("Lambswool^Ada%d", i), ID: fmt.Sprintf("PAT%05d", i)})
	}
	few, many := New(Study, nil).Subject("2.25.1", patients[0]), New(Study, nil).Subject("2.25.1", patients...)
	const text = "exports/2025/september/IM00017"
	cost := func(s *Subject) float64 { return testing.AllocsPerRun(10, func() { s.named(text) }) }
	if one, all := cost(few), cost(many); all > one {
		t.Errorf("%v allocations among 5,000 patients, %v with one", all, one)
	}
	for _, c := range []struct {
		text  string
		named bool
	}{{text, false}, {"x/pat04999/1", true}, {"of lambswool's", true}, {"ada4999", true}, {"da4", false}, {"", false}} {
		if many.named(c.text) != c.named {
			t.Errorf("%q names a patient: %t, want %t", c.text, !c.named, c.named)
		}
	}
}
