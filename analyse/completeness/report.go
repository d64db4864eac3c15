package completeness

import (
	"fmt"
	"slices"

	"leadline/analyse"
	"leadline/ingest"
	"leadline/ingest/protocol"
)

// report asks for a report in a state, and in time. A report of a lesser state and
// one that came late make the item partial; where flag or clock does not say, it is
// not assessable.
func (v *view) report(r *protocol.ReportRule) outcome {
	o := outcome{needed: 1}
	if len(v.study.Reports) == 0 {
		o.status, o.note = analyse.Missing, "no report"
		return o
	}
	good, silent := v.reportsOf(r.State)
	switch {
	case len(good) == 0 && silent:
		o.status, o.note = analyse.NotAssessable, "a report has no Completion Flag"
		return o
	case len(good) == 0:
		o.status, o.note = analyse.Partial, v.statesNote(r.State)
		return o
	}
	o.status, o.found = analyse.Met, 1
	for _, i := range good {
		o.evidence = append(o.evidence, fmt.Sprintf("report %d", i+1))
	}
	if limit, asked := r.WithinHours.Get(); asked {
		v.inTime(&o, good, limit)
	}
	return o
}

// statesNote says what the reports are instead.
func (v *view) statesNote(wanted string) string {
	var its []string
	for i, inst := range v.study.Reports {
		state, _ := analyse.ReportState(inst.Report)
		its = append(its, fmt.Sprintf("report %d is %s", i+1, state))
	}
	return fmt.Sprintf("%s; %s needed", join(its, ", "), wanted)
}

// reportsOf are the reports in at least a state, by their place; silent tells that
// another one has no completion flag.
func (v *view) reportsOf(state string) (good []int, silent bool) {
	least := state
	if state == protocol.StateAny {
		least = analyse.ReportPartial
	}
	for i, inst := range v.study.Reports {
		switch its, known := analyse.ReportState(inst.Report); {
		case slices.Index(analyse.ReportStates, its) >= slices.Index(analyse.ReportStates, least):
			good = append(good, i)
		case !known:
			silent = true
		}
	}
	return good, silent
}

// inTime holds the earliest of the reports against the last image.
func (v *view) inTime(o *outcome, good []int, limit float64) {
	var hours ingest.Optional[float64]
	reason := ""
	for _, i := range good {
		h, why := v.study.ReportDelayH(v.study.Reports[i])
		switch {
		case why != "":
			reason = why
		case !hours.Set || h < hours.Value:
			hours = ingest.Optional[float64]{Value: h, Set: true}
		}
	}
	switch {
	case hours.Set && hours.Value <= limit:
		o.note = fmt.Sprintf("%s h after the last image", hoursText(hours.Value))
		if hours.Value < 0 {
			o.note = fmt.Sprintf("dated %s h before the last image", hoursText(-hours.Value))
		}
	case reason != "":
		o.status, o.note = analyse.NotAssessable, reason
	default:
		o.status = analyse.Partial
		o.note = fmt.Sprintf("%s h after the last image, at most %g h wanted", hoursText(hours.Value), limit)
	}
}

func hoursText(h float64) string { return fmt.Sprintf("%.1f", h) }
