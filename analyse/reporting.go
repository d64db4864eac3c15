package analyse

import (
	"strings"

	"leadline/ingest"
	"leadline/ingest/report"
)

// The states of a report, by rising certainty. ReportNone is a study without one.
const (
	ReportNone     = "none"
	ReportPartial  = "partial"
	ReportComplete = "complete"
	ReportVerified = "verified"
)

// ReportStates lists the states in ascending order.
var ReportStates = []string{ReportNone, ReportPartial, ReportComplete, ReportVerified}

// ReportState is the state of a report by its flags (PS3.3 C.17.2); known is false
// where the completion flag is missing.
func ReportState(d *report.Document) (state string, known bool) {
	switch {
	case strings.EqualFold(d.VerificationFlag, "VERIFIED"):
		return ReportVerified, true
	case strings.EqualFold(d.CompletionFlag, "COMPLETE"):
		return ReportComplete, true
	}
	return ReportPartial, d.CompletionFlag != ""
}

// ReportDelayH is the time from the last image to a report in hours, or the reason
// why it is not known. Clocks of devices seldom say their zone, so two stamps
// compare only where both say it or neither does; a report dated before the first
// image shows that the clocks disagree.
func (s *Study) ReportDelayH(report *ingest.Instance) (hours float64, reason string) {
	at := report.Content
	switch {
	case len(s.Images) == 0:
		return 0, "the study has no image to count from"
	case !s.Last.HasTime:
		return 0, "the last image has no time"
	case !at.HasTime:
		return 0, "the report has no time"
	case at.Zone != s.Last.Zone:
		return 0, "only one of the two clocks says its time zone"
	case at.T.Before(s.First.T):
		return 0, "the report is dated before the first image: the clocks disagree"
	}
	return at.T.Sub(s.Last.T).Hours(), ""
}
