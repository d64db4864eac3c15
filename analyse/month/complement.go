package month

import (
	"leadline/analyse"
)

// sum is an equation between rates: those of parts add up to those of whole, but for
// a rest that no row shows. Places are those in Month.Rates.
type sum struct{ parts, whole []int }

// sums lists what readers can add up: the groups of a protocol to the whole, items to
// items met, weeks to months, the months of an item to the item.
func (s *suppression) sums(t table) []sum {
	places := map[analyse.GroupRate][]int{}
	for i := range s.month.Rates {
		places[named(&s.month.Rates[i])] = append(places[named(&s.month.Rates[i])], i)
	}
	var list []sum
	for _, p := range t {
		at := func(by analyse.RateBy, of analyse.RateOf, item, period string) []int {
			return places[analyse.GroupRate{Protocol: p.protocol, By: by, Of: of, Item: item, Period: period}]
		}
		for _, of := range []analyse.RateOf{analyse.CompleteStudies, analyse.ItemsMet} {
			whole := at(analyse.ByProtocol, of, "", "")
			for _, by := range []analyse.RateBy{analyse.ByDevice, analyse.ByUnit, analyse.ByOperator} {
				list = append(list, sum{at(by, of, "", ""), whole})
			}
			months, weeks := p.places(at, analyse.ByMonth, of, ""), p.places(at, analyse.ByWeek, of, "")
			list = append(list, sum{months, whole}, sum{weeks, whole}, sum{weeks, months})
		}
		var items []int
		for _, item := range p.items {
			one := at(analyse.ByItem, analyse.ItemMet, item, "")
			items = append(items, one...)
			list = append(list, sum{p.places(at, analyse.ByMonth, analyse.ItemMet, item), one})
		}
		list = append(list, sum{items, at(analyse.ByProtocol, analyse.ItemsMet, "", "")})
		for _, g := range p.sorted(analyse.ByMonth) {
			var ofMonth []int
			for _, item := range p.items {
				ofMonth = append(ofMonth, at(analyse.ByMonth, analyse.ItemMet, item, g.name)...)
			}
			list = append(list, sum{ofMonth, at(analyse.ByMonth, analyse.ItemsMet, "", g.name)})
		}
	}
	return list
}

// named is a rate without its counts, and without who and where, which groups share.
func named(r *analyse.GroupRate) analyse.GroupRate {
	return analyse.GroupRate{Protocol: r.Protocol, By: r.By, Of: r.Of, Item: r.Item, Period: r.Period}
}

// places are those of the rates of all periods.
func (t *tallies) places(at func(analyse.RateBy, analyse.RateOf, string, string) []int, by analyse.RateBy, of analyse.RateOf, item string) []int {
	var list []int
	for _, g := range t.sorted(by) {
		list = append(list, at(by, of, item, g.name)...)
	}
	return list
}

// complement hides more rates until no sum gives a hidden one away. Each round hides
// one at least, so that it ends.
func (s *suppression) complement(sums []sum) {
	counts := make([]count, len(s.month.Rates))
	for i := range s.month.Rates {
		r := &s.month.Rates[i]
		counts[i] = count{r.Numerator, r.Denominator, r.NotAssessable}
	}
	for again := true; again; {
		again = s.pair()
		for _, one := range sums {
			for s.tells(one, counts, s.hidden) && hideSmallest(one, counts, s.hidden) {
				again = true
			}
		}
	}
}

// pair hides complete studies and items met of a group together, and tells whether any
// was hidden so. Each tells of the other: a protocol asks about as many items of every
// study, so that the items count the studies, and where all are met, both are known.
func (s *suppression) pair() bool {
	more := false
	for i := 1; i < len(s.hidden); i++ {
		studies, items := &s.month.Rates[i-1], &s.month.Rates[i]
		if studies.Of == analyse.CompleteStudies && items.Of == analyse.ItemsMet && s.hidden[i-1] != s.hidden[i] {
			s.hidden[i-1], s.hidden[i], more = true, true, true
		}
	}
	return more
}

// pairDifferences does the same to differences.
func pairDifferences(list []analyse.Difference, hidden []bool) {
	for i := 1; i < len(list); i++ {
		if list[i-1].Of == analyse.CompleteStudies && list[i].Of == analyse.ItemsMet {
			either := hidden[i-1] || hidden[i]
			hidden[i-1], hidden[i] = either, either
		}
	}
}

// complementDifferences does the same to the earlier side of differences, whose items
// add up to the items met. The side at hand is that of the rates.
func (s *suppression) complementDifferences(hidden []bool) {
	list := s.month.Differences
	counts := make([]count, len(list))
	byProtocol := map[string]*sum{}
	var order []string
	for i := range list {
		counts[i] = count{met: list[i].Before.Numerator, of: list[i].Before.Denominator}
		one := byProtocol[list[i].Protocol]
		if one == nil {
			one = &sum{}
			byProtocol[list[i].Protocol] = one
			order = append(order, list[i].Protocol)
		}
		switch list[i].Of {
		case analyse.ItemsMet:
			one.whole = append(one.whole, i)
		case analyse.ItemMet:
			one.parts = append(one.parts, i)
		}
	}
	for _, p := range order {
		for s.tells(*byProtocol[p], counts, hidden) && hideSmallest(*byProtocol[p], counts, hidden) {
		}
	}
}

// tells is true where a reader works out what is hidden: one hidden rate alone in its
// sum, or hidden parts that together are small. The rest that no row shows counts as
// known, unless it is small itself and so must not come out.
func (s *suppression) tells(one sum, counts []count, hidden []bool) bool {
	if len(one.parts) == 0 || len(one.whole) == 0 {
		return false
	}
	unknown, wholes := 0, 0
	var together, rest count
	for _, i := range one.whole {
		rest.join(counts[i])
		if hidden[i] {
			unknown, wholes = unknown+1, wholes+1
		}
	}
	for _, i := range one.parts {
		rest.join(count{-counts[i].met, -counts[i].of, -counts[i].unjudged})
		if hidden[i] {
			unknown++
			together.join(counts[i])
		}
	}
	if s.small(rest) {
		together.join(rest)
		return wholes == 0 && s.small(together)
	}
	return unknown == 1 || unknown > 0 && wholes == 0 && s.small(together)
}

// hideSmallest hides the rate with the smallest denominator of those shown, a part
// before the whole; false where none is left. Empty rates hide nothing.
func hideSmallest(one sum, counts []count, hidden []bool) bool {
	for _, side := range [][]int{one.parts, one.whole} {
		best := -1
		for _, i := range side {
			if !hidden[i] && counts[i] != (count{}) && (best < 0 || counts[i].of < counts[best].of) {
				best = i
			}
		}
		if best >= 0 {
			hidden[best] = true
			return true
		}
	}
	return false
}
