package overview

import (
	"sort"

	"leadline/analyse"
)

type itemKey struct{ protocol, item string }

// countItem counts a required item; optional ones are nobody's shortfall.
func countItem(counts map[itemKey]*Shortfall, item *analyse.ItemResult) {
	if !item.Required || item.Status == analyse.NotApplicable {
		return
	}
	key := itemKey{item.Protocol, item.Item}
	c, ok := counts[key]
	if !ok {
		c = &Shortfall{Protocol: item.Protocol, Item: item.Item, Kind: item.Kind, Title: item.Title}
		counts[key] = c
	}
	c.Applied++
	switch item.Status {
	case analyse.Met:
		c.Met++
	case analyse.Partial:
		c.Partial++
	case analyse.Missing:
		c.Missing++
	case analyse.NotAssessable:
		c.NotAssessable++
	}
}

// lacking lists the items that are missing or partial somewhere, the most first.
func lacking(counts map[itemKey]*Shortfall) []Shortfall {
	var list []Shortfall
	for _, c := range counts {
		if c.Missing+c.Partial > 0 {
			list = append(list, *c)
		}
	}
	sort.Slice(list, func(i, j int) bool {
		a, b := list[i], list[j]
		if x, y := a.Missing+a.Partial, b.Missing+b.Partial; x != y {
			return x > y
		}
		if a.Protocol != b.Protocol {
			return a.Protocol < b.Protocol
		}
		return a.Item < b.Item
	})
	return list
}
