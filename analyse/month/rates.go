package month

import (
	"cmp"
	"maps"
	"slices"

	"leadline/analyse"
)

// groupings is the order in which the groups of a protocol are told, after the whole
// and its items.
var groupings = []analyse.RateBy{analyse.ByDevice, analyse.ByUnit, analyse.ByOperator, analyse.ByMonth, analyse.ByWeek}

func (t table) rates() []analyse.GroupRate {
	var list []analyse.GroupRate
	for _, p := range t {
		list = append(list, p.rates()...)
	}
	return list
}

// rates lists the rates of one protocol: the whole, each item, then each group.
func (t *tallies) rates() []analyse.GroupRate {
	var list []analyse.GroupRate
	if whole := t.groups[group{by: analyse.ByProtocol}]; whole != nil {
		list = append(list, t.both(group{by: analyse.ByProtocol}, whole)...)
		list = append(list, t.ofItems(analyse.ByItem, "", whole)...)
	}
	for _, by := range groupings {
		for _, g := range t.sorted(by) {
			list = append(list, t.both(g, t.groups[g])...)
		}
		if by != analyse.ByMonth {
			continue
		}
		for _, g := range t.sorted(by) {
			list = append(list, t.ofItems(by, g.name, t.groups[g])...)
		}
	}
	return list
}

func (t *tallies) sorted(by analyse.RateBy) []group {
	return slices.SortedFunc(func(yield func(group) bool) {
		for g := range maps.Keys(t.groups) {
			if g.by == by && !yield(g) {
				return
			}
		}
	}, func(a, b group) int { return cmp.Compare(a.name, b.name) })
}

// both are the rates of complete studies and of items met of a group.
func (t *tallies) both(g group, s *sums) []analyse.GroupRate {
	rate := analyse.GroupRate{Protocol: t.protocol, By: g.by, Device: s.device, Earlier: s.earlier}
	switch g.by {
	case analyse.ByUnit:
		rate.Unit = s.shown
	case analyse.ByOperator:
		rate.Operator = s.shown
	case analyse.ByMonth, analyse.ByWeek:
		rate.Period = g.name
	}
	studies, items := rate, rate
	studies.Of, studies.Proportion, studies.NotAssessable = analyse.CompleteStudies, s.complete.proportion(), s.complete.unjudged
	items.Of, items.Proportion, items.NotAssessable = analyse.ItemsMet, s.itemsMet(), s.items.unjudged
	return []analyse.GroupRate{studies, items}
}

func (t *tallies) ofItems(by analyse.RateBy, period string, s *sums) []analyse.GroupRate {
	var list []analyse.GroupRate
	for _, item := range t.items {
		if c := s.each[item]; c != nil {
			list = append(list, analyse.GroupRate{Protocol: t.protocol, Of: analyse.ItemMet, By: by, Item: item, Title: t.titles[item],
				Period: period, Earlier: s.earlier, Proportion: c.proportion(), NotAssessable: c.unjudged})
		}
	}
	return list
}
