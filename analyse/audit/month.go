package audit

import (
	"slices"

	"leadline/analyse"
	"leadline/analyse/month"
)

// monthOf says what all studies together say, and takes statistics of fewer studies
// than may be shown out of the result.
func monthOf(result *analyse.Result, opts Options) analyse.Month {
	run := month.Options{Earlier: opts.Earlier, MinCell: opts.MinCell}
	for _, p := range result.Protocols {
		run.Protocols = append(run.Protocols, p.Name)
	}
	m := month.Of(result.Studies, run)
	before := len(result.Agreement)
	result.Agreement = slices.DeleteFunc(result.Agreement, func(s analyse.Statistic) bool { return s.Studies < opts.MinCell })
	m.Suppressed += before - len(result.Agreement)
	return m
}
