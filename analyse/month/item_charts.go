package month

import (
	"cmp"
	"slices"

	"leadline/analyse"
)

// itemWeeks are the weeks of one required item.
type itemWeeks struct {
	item  string
	weeks []week
	// lacking counts the studies of the audit at hand that lack the item; ever those of
	// earlier audits too.
	lacking, ever int
}

// itemCharts are the p-charts by week of single required items, those that most studies
// of this audit lack first. An item that none ever lacked has no chart: nothing varies.
func (t *tallies) itemCharts(all []*entry) []analyse.Chart {
	var charts []analyse.Chart
	for _, w := range t.byWeek(all) {
		charts = append(charts, shareChart(analyse.Chart{Protocol: t.protocol, Subject: string(analyse.ItemMet), Item: w.item,
			Title: cmp.Or(t.titles[w.item], w.item) + ", by week", Source: shareSource}, w.weeks, false))
	}
	return charts
}

func (t *tallies) byWeek(all []*entry) []*itemWeeks {
	items := make([]*itemWeeks, len(t.items))
	place := map[string]*itemWeeks{}
	for i, item := range t.items {
		items[i] = &itemWeeks{item: item}
		place[item] = items[i]
	}
	for _, e := range all {
		for m := range e.marks() {
			if m.protocol != t.protocol || !m.required || e.week == "" {
				continue
			}
			var c count
			c.add(m.status)
			w := place[m.item]
			w.weeks, w.ever = inWeek(w.weeks, e, c), w.ever+c.of-c.met
			if e.audit == atHand {
				w.lacking += c.of - c.met
			}
		}
	}
	items = slices.DeleteFunc(items, func(w *itemWeeks) bool { return w.ever == 0 })
	slices.SortStableFunc(items, func(a, b *itemWeeks) int {
		return cmp.Or(cmp.Compare(b.lacking, a.lacking), cmp.Compare(b.ever, a.ever))
	})
	return items
}
