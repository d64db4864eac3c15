package month

import (
	"leadline/analyse"
	"leadline/analyse/stats"
	"leadline/ingest"
	"leadline/ingest/terms"
)

// count is a rate in the making; unjudged is in neither of the others.
type count struct{ met, of, unjudged int }

func (c *count) add(status analyse.ItemStatus) {
	switch status {
	case analyse.Met:
		c.met, c.of = c.met+1, c.of+1
	case analyse.Partial, analyse.Missing:
		c.of++
	case analyse.NotAssessable:
		c.unjudged++
	}
}

func (c *count) join(d count) {
	c.met, c.of, c.unjudged = c.met+d.met, c.of+d.of, c.unjudged+d.unjudged
}

// study is what one more study adds to the count of complete ones, given the count of
// its required items. A study of which nothing could be judged is not complete.
func (c count) study() count {
	switch {
	case c.of == 0:
		return count{unjudged: 1}
	case c.met == c.of:
		return count{met: 1, of: 1}
	}
	return count{of: 1}
}

// group is what studies have in common: name tells which device, unit and so on. The
// studies of an earlier audit are a group by earlierAudit and its number.
type group struct {
	by    analyse.RateBy
	name  string
	audit int
}

// Groups that are counted and not told. A week within a month may be part of the week
// only.
const (
	earlierAudit analyse.RateBy = "earlier audit"
	weekOfMonth  analyse.RateBy = "week of month"
)

// sums are the counts of one group.
type sums struct {
	complete, items count
	// studies holds the items met of each study, as the groups that they come in; empty
	// where the scatter of studies may not be shown.
	studies stats.Clusters
	each    map[string]*count // by item; only of groups that need them
	device  *ingest.Device
	shown   string // the name as it is shown
	earlier bool
}

// tallies are the counts of one protocol. Items are in the order of the protocol.
type tallies struct {
	protocol string
	// plain takes items for single ones: with a least cell the scatter of the studies
	// would tell of hidden counts.
	plain  bool
	groups map[group]*sums
	items  []string
	titles map[string]string
}

// table holds the tallies of each protocol, in the order asked for.
type table []*tallies

func tally(all []*entry, opts Options) table {
	var t table
	for _, p := range opts.Protocols {
		one := &tallies{protocol: p, plain: opts.MinCell > 1, groups: map[group]*sums{}, titles: map[string]string{}}
		for _, e := range all {
			one.study(e)
		}
		t = append(t, one)
	}
	return t
}

// study adds a study to each of its groups.
func (t *tallies) study(e *entry) {
	needed, applied := e.needed(t.protocol)
	if !applied {
		return
	}
	if e.audit != atHand {
		t.into(group{by: earlierAudit, audit: e.audit}, e, needed, true)
	} else {
		t.into(group{by: analyse.ByProtocol}, e, needed, true)
		t.into(group{by: analyse.ByDevice, name: e.deviceName}, e, needed, false).device = e.device
		t.into(group{by: analyse.ByUnit, name: e.unit}, e, needed, false).shown = e.unit
		for _, name := range e.operators {
			s := t.into(group{by: analyse.ByOperator, name: terms.Person(name)}, e, needed, false)
			if s.shown == "" {
				s.shown = name
			}
		}
	}
	if e.week != "" {
		t.into(group{by: analyse.ByMonth, name: e.month}, e, needed, true)
		t.into(group{by: analyse.ByWeek, name: e.week}, e, needed, false)
		t.into(group{by: weekOfMonth, name: e.month + " " + e.week}, e, needed, false)
	}
}

// into adds a study to one group, and its items where the group counts each.
func (t *tallies) into(g group, e *entry, needed count, each bool) *sums {
	s := t.groups[g]
	if s == nil {
		s = &sums{each: map[string]*count{}}
		t.groups[g] = s
	}
	s.complete.join(needed.study())
	s.items.join(needed)
	if !t.plain {
		s.studies.Add(needed.met, needed.of)
	}
	s.earlier = s.earlier || e.audit != atHand
	if each {
		t.each(s, e)
	}
	return s
}

func (t *tallies) each(s *sums, e *entry) {
	for m := range e.marks() {
		if m.protocol != t.protocol || !m.required {
			continue
		}
		if title, known := t.titles[m.item]; !known {
			t.items = append(t.items, m.item)
			t.titles[m.item] = m.title
		} else if title == "" {
			t.titles[m.item] = m.title
		}
		c := s.each[m.item]
		if c == nil {
			c = &count{}
			s.each[m.item] = c
		}
		c.add(m.status)
	}
}

// needed counts the required items of a study by one protocol; applied tells whether
// it was held against it.
func (e *entry) needed(protocol string) (c count, applied bool) {
	for m := range e.marks() {
		if m.protocol != protocol {
			continue
		}
		applied = true
		if m.required {
			c.add(m.status)
		}
	}
	return c, applied
}

// itemsMet are the items met with their share and the interval for studies whose items
// go together.
func (s *sums) itemsMet() analyse.Proportion {
	effect := s.studies.Effect()
	p := s.items.proportionOf(effect)
	if p.Value.Set && s.studies != (stats.Clusters{}) {
		p.DesignEffect = ingest.Some(effect)
	}
	return p
}

// proportion is a count with its share and interval.
func (c count) proportion() analyse.Proportion { return c.proportionOf(1) }

func (c count) proportionOf(effect float64) analyse.Proportion {
	p := analyse.Proportion{Numerator: c.met, Denominator: c.of, Small: c.of < analyse.SmallDenominator}
	if e, ok := stats.Wilson(c.met, c.of, effect); ok {
		p.Value, p.Low, p.High = ingest.Some(e.Value), ingest.Some(e.Low), ingest.Some(e.High)
	}
	return p
}
