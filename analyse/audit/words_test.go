package audit

import (
	"testing"

	"leadline/ingest"
)

// Every row of the table that comes with the program is of a measure or an index
// that there is, in a unit that fits.
func TestBuiltinReferences(t *testing.T) {
	rows, err := ingest.ReadReferences(ingest.BuiltinReferences)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := References(rows, nil); err != nil {
		t.Error(err)
	}
}
