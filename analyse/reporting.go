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
// why it is not known.
func (s *Study) ReportDelayH(report *ingest.Instance) (hours float64, reason string) {
	return s.DelayH(report.Content)
}

// DelayH is the time in hours from the last image to when a report was written or
// verified, or the reason why it is not known. Clocks of devices seldom say their
// zone, so two stamps compare only where both say it or neither does; a report dated
// before the first image shows that the clocks disagree.
func (s *Study) DelayH(at ingest.Stamp) (hours float64, reason string) {
	switch {
	case len(s.Images) == 0:
		return 0, "the study has no image to count from"
	case !s.Last.HasTime:
		return 0, "the last image has no time"
	case !at.HasTime:
		return 0, "the report has no time"
	case at.Zone != s.Last.Zone:
		return 0, "only one of the two clocks says its time zone"
	case at.After(s.First) < 0:
		return 0, "the report is dated before the first image: the clocks disagree"
	}
	return at.After(s.Last).Hours(), ""
}

// VerifiedAt are the times at which a report was verified: Verification DateTime
// (0040,A030), which may state a zone of its own and is else in that of the report.
func VerifiedAt(r *ingest.Instance) []ingest.Stamp {
	var all []ingest.Stamp
	for _, v := range r.Report.Verifications {
		if at := ingest.ParseDateTime(v.DateTime).InZoneOf(r.Content); !at.IsZero() {
			all = append(all, at)
		}
	}
	return all
}
