package audit

import (
	"leadline/analyse/completeness"
	"leadline/analyse/indices"
	"leadline/analyse/measures"
	"leadline/analyse/physical"
	"leadline/analyse/references"
	"leadline/ingest"
	"leadline/ingest/protocol"
)

// References makes rows of reference tables ready for Run, by the ids of the indices and
// of the measures that Run will be given, nil for the built-in ones. An id that is neither a
// measure nor an index, or a unit that does not fit it, is an error with its place.
func References(rows []ingest.ReferenceRow, words *measures.Catalogue) (*references.Table, error) {
	units := map[string]physical.Unit{}
	for _, m := range words.All() {
		units[m.ID] = m.Unit
	}
	for i := range indices.All {
		units[indices.All[i].ID] = indices.All[i].Unit
	}
	return references.New(rows, units)
}

// CheckProtocol wants every measure and index that a protocol names to be known; nil
// are the measures that come with the program.
func CheckProtocol(p *protocol.Protocol, words *measures.Catalogue) error {
	return completeness.Check(p, words.IDs(), indices.IDs())
}
