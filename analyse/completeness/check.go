package completeness

import (
	"errors"
	"fmt"
	"slices"

	"leadline/ingest/protocol"
	"leadline/ingest/terms"
)

// Check holds the words of a protocol that ingest cannot know against the measures
// and indices that there are. Every unknown one is a *protocol.FileError with its
// place and the nearest word, joined. What a protocol extends, in a file of its
// own, is asked first.
func Check(p *protocol.Protocol, measures, indices []string) error {
	if p.Extends != nil {
		if err := Check(p.Extends, measures, indices); err != nil {
			return err
		}
	}
	return errors.Join(
		unknownWords(p.File, "measure", p.MeasureRefs(), measures),
		unknownWords(p.File, "index", p.IndexRefs(), indices),
	)
}

// maxErrors is how many unknown words of one kind are told.
const maxErrors = 20

func unknownWords(file, what string, refs []protocol.Ref, known []string) error {
	var errs []error
	for _, ref := range refs {
		if slices.Contains(known, ref.ID) {
			continue
		}
		if len(errs) == maxErrors {
			errs = append(errs, fmt.Errorf("%s: more errors were left out", file))
			break
		}
		errs = append(errs, &protocol.FileError{
			File: file, Line: ref.Line, Column: ref.Column,
			Expected: "a known " + what, Found: fmt.Sprintf("%q", ref.ID), Nearest: terms.Nearest(ref.ID, known),
		})
	}
	return errors.Join(errs...)
}
