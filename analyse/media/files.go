package media

import (
	"path"
	"strings"

	"leadline/ingest"
)

// files finds the ledger's entries by path.
type files struct{ exact, folded map[string]*ingest.Entry }

// newFiles indexes the ledger; of entries with one path the first is found, as it
// is the first that stands for an instance.
func newFiles(ledger []ingest.Entry) files {
	f := files{exact: make(map[string]*ingest.Entry, len(ledger)), folded: make(map[string]*ingest.Entry, len(ledger))}
	for i := len(ledger) - 1; i >= 0; i-- {
		p := path.Clean(ledger[i].Path)
		f.exact[p], f.folded[folded(p)] = &ledger[i], &ledger[i]
	}
	return f
}

// find looks for the path as written, else as a medium may be shown.
func (f files) find(p string) *ingest.Entry {
	if e := f.exact[p]; e != nil {
		return e
	}
	return f.folded[folded(p)]
}

// folded makes the ways equal in which one name of a CD is shown: File IDs are
// upper case (PS3.10 8.2), and a volume of ISO 9660 without extensions shows them
// in lower case, with a dot where there is no extension, or with the version
// number ";1" (ISO 9660 7.5; from memory).
func folded(p string) string {
	return strings.TrimSuffix(strings.TrimSuffix(strings.ToLower(p), ";1"), ".")
}
