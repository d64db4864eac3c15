package month

import (
	"leadline/analyse"
)

// suppress leaves out what counts below MinCell would show or let a reader work out:
// small cells themselves (primary suppression) and what gives them away by sums
// (complementary suppression). It names the points of charts that hold them: charts
// are made without, so that their limits tell nothing of them. No chart may be made
// whose points are single studies, or weeks of a single item, which no rate shows.
func suppress(m *analyse.Month, t table) map[hiddenWeek]bool {
	s := &suppression{month: m, hidden: make([]bool, len(m.Rates))}
	for i := range m.Rates {
		r := &m.Rates[i]
		s.hidden[i] = s.small(count{r.Numerator, r.Denominator, r.NotAssessable})
	}
	s.partWeeks(t)
	s.complement(s.sums(t))
	s.differences()
	s.clear()
	return s.weeks()
}

type suppression struct {
	month *analyse.Month
	// hidden tells, for each rate, whether it is left out.
	hidden []bool
}

// small tells counts of which one, or the rest to the denominator, may not be shown.
func (s *suppression) small(c count) bool {
	below := s.month.Below
	return below(c.met) || below(c.of) || below(c.of-c.met) || below(c.unjudged)
}

// partWeeks hides the months of a protocol where a part of a week, which is what a
// month differs from its weeks by, is small.
func (s *suppression) partWeeks(t table) {
	for _, p := range t {
		unsafe := false
		for g, sums := range p.groups {
			unsafe = unsafe || g.by == weekOfMonth && (s.small(sums.complete) || s.small(sums.items))
		}
		for i := range s.month.Rates {
			r := &s.month.Rates[i]
			if unsafe && r.Protocol == p.protocol && r.By == analyse.ByMonth && r.Item == "" {
				s.hidden[i] = true
			}
		}
	}
}

// differences hides differences with a small side, and those whose rates are hidden.
func (s *suppression) differences() {
	list := s.month.Differences
	hidden := make([]bool, len(list))
	for i := range list {
		d := &list[i]
		hidden[i] = s.small(count{met: d.Now.Numerator, of: d.Now.Denominator}) || s.small(count{met: d.Before.Numerator, of: d.Before.Denominator}) ||
			s.rateHidden(d, d.NowIs) || s.rateHidden(d, d.BeforeIs)
	}
	pairDifferences(list, hidden)
	s.complementDifferences(hidden)
	pairDifferences(list, hidden)
	for i := range list {
		if hidden[i] {
			d := &list[i]
			*d = analyse.Difference{Protocol: d.Protocol, Of: d.Of, Item: d.Item, Title: d.Title, NowIs: d.NowIs, BeforeIs: d.BeforeIs,
				Now: analyse.Proportion{Suppressed: true}, Before: analyse.Proportion{Suppressed: true}, Note: "suppressed"}
			s.month.Suppressed++
		}
	}
}

// rateHidden tells that the rate of one side of a difference is hidden.
func (s *suppression) rateHidden(d *analyse.Difference, side string) bool {
	for i := range s.month.Rates {
		r := &s.month.Rates[i]
		if !s.hidden[i] || r.Protocol != d.Protocol || r.Of != d.Of || r.Item != d.Item {
			continue
		}
		whole := r.By == analyse.ByProtocol || r.By == analyse.ByItem
		if side == analyse.ThisAudit && whole || r.By == analyse.ByMonth && r.Period == side {
			return true
		}
	}
	return false
}

// hiddenWeek names a point of a chart of shares.
type hiddenWeek struct{ protocol, subject, week string }

// weeks are the points of charts whose rates are hidden.
func (s *suppression) weeks() map[hiddenWeek]bool {
	hidden := map[hiddenWeek]bool{}
	for i := range s.month.Rates {
		if r := &s.month.Rates[i]; s.hidden[i] && r.By == analyse.ByWeek {
			hidden[hiddenWeek{r.Protocol, string(r.Of), r.Period}] = true
			s.month.Suppressed++
		}
	}
	return hidden
}

// clear empties the rates that are hidden.
func (s *suppression) clear() {
	for i := range s.month.Rates {
		if s.hidden[i] {
			r := &s.month.Rates[i]
			r.Proportion, r.NotAssessable = analyse.Proportion{Suppressed: true}, 0
			s.month.Suppressed++
		}
	}
}
