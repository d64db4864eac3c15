package month

import (
	"time"

	"leadline/analyse"
	"leadline/analyse/stats"
	"leadline/ingest"
)

// differences holds the audit at hand against the latest of the earlier ones, or,
// without any or where all studies of that one are of this audit too, the last
// of its months against the month before.
func (t table) differences(earlier []analyse.EarlierAudit) []analyse.Difference {
	var list []analyse.Difference
	for _, p := range t {
		last := len(earlier) - 1
		now, before := group{by: analyse.ByProtocol}, group{by: earlierAudit, audit: last}
		nowIs, beforeIs := analyse.ThisAudit, ""
		if p.groups[before] != nil {
			beforeIs = earlier[last].Name
		} else if now, before = p.lastMonths(); before.name != "" {
			nowIs, beforeIs = now.name, before.name
		}
		if p.groups[now] == nil || p.groups[before] == nil {
			continue
		}
		for _, d := range p.between(p.groups[now], p.groups[before]) {
			d.NowIs, d.BeforeIs = nowIs, beforeIs
			list = append(list, d)
		}
	}
	return list
}

// lastMonths are the last two months with studies that follow each other, nothing where
// none do: a study whose clock is a year off makes no month to compare with.
func (t *tallies) lastMonths() (now, before group) {
	months := t.sorted(analyse.ByMonth)
	for i := len(months) - 1; i > 0; i-- {
		if follows(months[i].name, months[i-1].name) {
			return months[i], months[i-1]
		}
	}
	return group{}, group{}
}

// follows tells that a month, as 2026-09, is the one after another.
func follows(month, before string) bool {
	const layout = "2006-01"
	m, err := time.Parse(layout, before)
	return err == nil && m.AddDate(0, 1, 0).Format(layout) == month
}

// between are the differences of two groups: complete studies, items met, each item.
func (t *tallies) between(now, before *sums) []analyse.Difference {
	list := []analyse.Difference{
		difference(analyse.CompleteStudies, now.complete.proportion(), before.complete.proportion()),
		difference(analyse.ItemsMet, now.itemsMet(), before.itemsMet()),
	}
	for _, item := range t.items {
		a, b := now.each[item], before.each[item]
		if a == nil && b == nil {
			continue
		}
		d := analyse.Difference{}
		switch {
		case a == nil:
			d = difference(analyse.ItemMet, count{}.proportion(), b.proportion())
			d.Note = "the protocol does not require the item any more"
		case b == nil:
			d = difference(analyse.ItemMet, a.proportion(), count{}.proportion())
			d.Note = "the protocol did not require the item before"
		default:
			d = difference(analyse.ItemMet, a.proportion(), b.proportion())
		}
		d.Item, d.Title = item, t.titles[item]
		list = append(list, d)
	}
	for i := range list {
		list[i].Protocol = t.protocol
	}
	return list
}

func difference(of analyse.RateOf, now, before analyse.Proportion) analyse.Difference {
	d := analyse.Difference{Of: of, Now: now, Before: before}
	if !now.Value.Set || !before.Value.Set {
		d.Note = "nothing could be judged on one side"
		return d
	}
	e := stats.Difference(estimateOf(now), estimateOf(before))
	d.Value, d.Low, d.High = ingest.Some(e.Value), ingest.Some(e.Low), ingest.Some(e.High)
	return d
}

func estimateOf(p analyse.Proportion) stats.Estimate {
	return stats.Estimate{Value: p.Value.Value, Low: p.Low.Value, High: p.High.Value}
}
