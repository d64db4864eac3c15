// Package month says what all studies of an audit say together: rates of what is
// complete, by protocol, item, device, unit, operator, month and week; control charts
// in the order of time; and the difference from the audit or the month before. It
// takes statuses as they were judged and judges no study again.
//
// Values that are counted are studies and items, not children: several studies may be
// of one child, and the intervals take them for independent.
package month

import (
	"leadline/analyse"
	"leadline/ingest"
)

// Options are the settings of Of.
type Options struct {
	// Protocols are the names of the protocols, in the order of the output.
	Protocols []string
	Earlier   []*ingest.EarlierAudit
	// MinCell is the least count that may be shown; below 2 all are shown.
	MinCell int
}

// Of says what the studies of an audit, which are in the order of time, say together.
func Of(studies []*analyse.Study, opts Options) analyse.Month {
	all, earlier := entries(studies, opts.Earlier)
	m := analyse.Month{Earlier: earlier, MinCell: opts.MinCell}
	for _, e := range all {
		if e.audit == atHand && e.at.IsZero() {
			m.Undated++
		}
	}
	t := tally(all, opts)
	m.Rates = t.rates()
	m.Differences = t.differences(earlier)
	hidden := map[hiddenWeek]bool{}
	if opts.MinCell > 1 {
		hidden = suppress(&m, t)
	}
	for _, p := range t {
		m.Charts = append(m.Charts, shareCharts(p.protocol, all, hidden)...)
		single := append(p.itemCharts(all), timeCharts(p.protocol, all)...)
		if opts.MinCell > 1 {
			m.Suppressed += len(single)
			continue
		}
		m.Charts = append(m.Charts, single...)
	}
	return m
}
