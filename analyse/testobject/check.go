package testobject

import (
	"errors"
	"fmt"

	"leadline/analyse/measures"
	"leadline/analyse/physical"
	"leadline/ingest/protocol"
	"leadline/ingest/terms"
)

// Check holds the measures that targets name against those that there are: each must
// be a known length. What is wrong is a *protocol.FileError with its place, joined.
func Check(o *protocol.TestObject, known []measures.Measure) error {
	lengths := map[string]bool{}
	var names []string
	for _, m := range known {
		if m.Unit == physical.MM {
			lengths[m.ID] = true
			names = append(names, m.ID)
		}
	}
	var errs []error
	for _, t := range o.Targets {
		for _, ref := range t.Measures {
			if !lengths[ref.ID] {
				errs = append(errs, &protocol.FileError{
					File: o.File, Line: ref.Line, Column: ref.Column, Expected: "a known measure that is a length",
					Found: fmt.Sprintf("%q", ref.ID), Nearest: terms.Nearest(ref.ID, names),
				})
			}
		}
	}
	return errors.Join(errs...)
}
