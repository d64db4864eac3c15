package audit

import (
	"leadline/analyse/indices"
	"leadline/analyse/measures"
	"leadline/analyse/physical"
	"leadline/analyse/references"
	"leadline/ingest"
)

// References makes rows of reference tables ready for Run. An id that is neither a
// measure nor an index, or a unit that does not fit it, is an error with its place.
func References(rows []ingest.ReferenceRow) (*references.Table, error) {
	units := map[string]physical.Unit{}
	for _, m := range measures.All() {
		units[m.ID] = m.Unit
	}
	for i := range indices.All {
		units[indices.All[i].ID] = indices.All[i].Unit
	}
	return references.New(rows, units)
}
