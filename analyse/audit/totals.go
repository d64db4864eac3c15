package audit

import (
	"leadline/analyse"
	"leadline/ingest"
)

// total counts what one row of the studies table says.
func total(s *analyse.Study) {
	t := &s.Totals
	for _, img := range s.Images {
		t.Images++
		if img.Kind == analyse.Clip {
			t.Clips++
		} else {
			t.Stills++
		}
	}
	for i := range s.Measurements {
		t.Measurements++
		if s.Measurements[i].Rebuilt != nil {
			t.Rebuilt++
		}
		if s.Measurements[i].Verdict == analyse.VerdictDiffers {
			t.Differing++
		}
	}
	t.ItemsNeeded, t.ItemsMet = countItems(s.Items)
	if t.ItemsNeeded > 0 {
		t.Completeness = some(float64(t.ItemsMet) / float64(t.ItemsNeeded))
	}
	if len(t.Protocols) > 0 {
		t.Complete = some(complete(s.Items))
	}
	t.ReportState, t.ReportDelayH = reportOf(s)
	for _, f := range s.Findings {
		switch f.Severity {
		case analyse.Error:
			t.Errors++
		case analyse.Warning:
			t.Warnings++
		default:
			t.Notes++
		}
	}
}

// countItems counts the required items that could be judged, and those met.
// Items that could not be judged count on neither side.
func countItems(items []analyse.ItemResult) (needed, met int) {
	for _, item := range items {
		if !item.Required {
			continue
		}
		switch item.Status {
		case analyse.Met:
			met++
			needed++
		case analyse.Partial, analyse.Missing:
			needed++
		}
	}
	return needed, met
}

// complete tells that no required item is partial or missing.
func complete(items []analyse.ItemResult) bool {
	needed, met := countItems(items)
	return needed == met
}

// The report states of studies.csv, by rising certainty.
const (
	reportNone     = "none"
	reportPartial  = "partial"
	reportComplete = "complete"
	reportVerified = "verified"
)

// reportOf is the furthest state of any report of the study, and the hours from
// the last image to the earliest report of that state; absent where one of the
// clocks is missing.
func reportOf(s *analyse.Study) (state string, delayH ingest.Optional[float64]) {
	rank := map[string]int{reportNone: 0, reportPartial: 1, reportComplete: 2, reportVerified: 3}
	state = reportNone
	var at ingest.Stamp
	for _, r := range s.Reports {
		its := stateOf(r)
		if rank[its] > rank[state] || (its == state && r.Content.HasTime && r.Content.T.Before(at.T)) {
			state, at = its, r.Content
		}
	}
	if state == reportNone || !at.HasTime || !s.Last.HasTime || at.Zone != s.Last.Zone {
		return state, delayH
	}
	return state, some(at.T.Sub(s.Last.T).Hours())
}

func stateOf(r *ingest.Instance) string {
	switch {
	case r.Report.VerificationFlag == "VERIFIED":
		return reportVerified
	case r.Report.CompletionFlag == "COMPLETE":
		return reportComplete
	}
	return reportPartial
}

func some[T any](v T) ingest.Optional[T] { return ingest.Optional[T]{Value: v, Set: true} }
