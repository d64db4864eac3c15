package completeness

import (
	"errors"
	"fmt"
	"slices"

	"leadline/analyse/measures"
	"leadline/ingest/protocol"
	"leadline/ingest/terms"
)

// Check holds the words of a protocol that ingest cannot know, its measures,
// against the catalogue. Every unknown one is a *protocol.FileError with its place
// and the nearest word, joined.
func Check(p *protocol.Protocol) error {
	return unknownWords(p.File, "measure", p.MeasureRefs(), measures.IDs())
}

// CheckIndices holds the indices that a protocol names against the known ones,
// which the caller hands over (those of analyse/indices); else as Check.
func CheckIndices(p *protocol.Protocol, known []string) error {
	return unknownWords(p.File, "index", p.IndexRefs(), known)
}

func unknownWords(file, what string, refs []protocol.Ref, known []string) error {
	var errs []error
	for _, ref := range refs {
		if slices.Contains(known, ref.ID) {
			continue
		}
		errs = append(errs, &protocol.FileError{
			File: file, Line: ref.Line, Column: ref.Column,
			Expected: "a known " + what, Found: fmt.Sprintf("%q", ref.ID), Nearest: terms.Nearest(ref.ID, known),
		})
	}
	return errors.Join(errs...)
}
