package assemble

import (
	"time"

	"leadline/analyse"
	"leadline/ingest"
)

// Period keeps the studies of these days and between; zero is open. A study without
// a date is kept.
type Period struct{ Since, Until time.Time }

// Result begins the result of a run over an archive: its ledger, and its studies
// within the period, assembled and not judged.
func Result(archive *ingest.Archive, inputs []string, kept Period) *analyse.Result {
	result := &analyse.Result{Ledger: archive.Ledger, Inputs: inputs, Since: day(kept.Since), Until: day(kept.Until)}
	for _, s := range Studies(archive.Instances) {
		if kept.outside(s.Start) {
			result.LeftOut++
			result.OutOfRange = append(result.OutOfRange, s) // their files stay in the ledger, and must be masked there too
			continue
		}
		result.Studies = append(result.Studies, s)
	}
	return result
}

func day(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Format(time.DateOnly)
}

func (p Period) outside(start ingest.Stamp) bool {
	if start.IsZero() {
		return false
	}
	day := start.Reading().Truncate(24 * time.Hour)
	return (!p.Since.IsZero() && day.Before(p.Since)) || (!p.Until.IsZero() && day.After(p.Until))
}
