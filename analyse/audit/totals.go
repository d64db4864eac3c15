package audit

import (
	"slices"

	"leadline/analyse"
	"leadline/ingest"
)

// total counts what one row of the studies table says of a study and its findings,
// but for its images, which were counted when it was assembled.
func total(s *analyse.Study, findings []analyse.Finding) {
	t := &s.Totals
	for i := range s.Measurements {
		t.Measurements++
		if s.Measurements[i].Rebuilt != nil {
			t.Rebuilt++
		}
		if s.Measurements[i].Verdict == analyse.VerdictDiffers {
			t.Differing++
		}
	}
	t.ItemsNeeded, t.ItemsMet = countItems(s.Items, "")
	if t.ItemsNeeded > 0 {
		t.Completeness = ingest.Some(float64(t.ItemsMet) / float64(t.ItemsNeeded))
	}
	if len(t.Protocols) > 0 {
		t.Complete = ingest.Some(complete(s.Items, ""))
	}
	t.ReportState, t.ReportDelayH = reportOf(s)
	t.CountFindings(findings)
}

// countItems counts the required items that could be judged, and those met.
// Items that could not be judged count on neither side. Where protocol is not empty,
// the others' do not count.
func countItems(items []*analyse.ItemResult, protocol string) (needed, met int) {
	for _, item := range items {
		if !item.Required || protocol != "" && item.Protocol != protocol {
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

// complete tells that no required item of the protocol, of all where it is empty, is
// partial or missing.
func complete(items []*analyse.ItemResult, protocol string) bool {
	needed, met := countItems(items, protocol)
	return needed == met
}

// reportOf is the furthest state of any report of the study, and the hours from
// the last image to the earliest report of that state; absent where the clocks do
// not tell.
func reportOf(s *analyse.Study) (state string, delayH ingest.Optional[float64]) {
	state = analyse.ReportNone
	for _, r := range s.Reports {
		its, _ := analyse.ReportState(r.Report)
		switch c := slices.Index(analyse.ReportStates, its) - slices.Index(analyse.ReportStates, state); {
		case c < 0:
			continue
		case c > 0:
			state, delayH = its, ingest.Optional[float64]{}
		}
		if h, why := s.ReportDelayH(r); why == "" && (!delayH.Set || h < delayH.Value) {
			delayH = ingest.Some(h)
		}
	}
	return state, delayH
}
