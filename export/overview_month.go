package export

import (
	"fmt"
	"slices"

	"leadline/analyse"
	"leadline/analyse/overview"
	"leadline/export/deid"
)

// leftOutText stands where a count may not be shown.
const leftOutText = "left out: a cell, or one it gives away, counts fewer than --min-cell"

// unless is a cell, absent where it may not be shown.
func unless(hidden bool, c Cell) Cell {
	if hidden {
		return Cell{}
	}
	return c
}

// month tells the month in a few sentences, and what it was compared with.
func (w *writer) month() Section {
	m := &w.result.Month
	s := Section{Title: "The month", Paragraphs: overview.MonthLines(w.result, w.inTime())}
	for _, a := range m.Earlier {
		said := "Compared with " + clean(w.rules.Text(deid.Path, nil, a.Name)) + ": " + counted(a.Studies, "study", "studies")
		if a.Again > 0 {
			said += fmt.Sprintf(", %d of them also in this audit or a later one, where they count", a.Again)
		}
		s.Paragraphs = append(s.Paragraphs, said+".")
	}
	if m.Undated > 0 && !m.Below(m.Undated) {
		s.Paragraphs = append(s.Paragraphs, counted(m.Undated, "study", "studies")+" without a date: in no week, month or chart.")
	}
	if len(s.Paragraphs) == 0 {
		s.Paragraphs = []string{"No protocol applied to any study."}
	}
	return s
}

// mostOfMonth charts are drawn of a month: what a group looks through in one sitting.
const mostOfMonth = 16

// mostOfItems charts of single items are drawn of each protocol: those that most
// studies lack. The sheet Charts holds all.
const mostOfItems = 2

// meeting are the charts of the month, those with limits first. Those that are not
// drawn come last.
func (w *writer) meeting() *Meeting {
	m := &Meeting{Title: "The month", Lines: overview.MonthLines(w.result, w.inTime()), Most: mostOfMonth}
	if len(m.Lines) == 0 {
		return nil
	}
	if !w.inTime() {
		return m
	}
	var without, undrawn []analyse.Chart
	items := map[string]int{}
	for _, c := range w.result.Month.Charts {
		c.Title += ", " + w.result.ProtocolTitle(c.Protocol)
		if c.Item != "" {
			items[c.Protocol]++
		}
		switch {
		case !hasValues(&c):
		case c.Item != "" && items[c.Protocol] > mostOfItems:
			undrawn = append(undrawn, c)
		case HasLimits(&c):
			m.Charts = append(m.Charts, c)
		default:
			without = append(without, c)
		}
	}
	m.Charts = slices.Concat(m.Charts, without, undrawn)
	m.Most = min(m.Most, len(m.Charts)-len(undrawn))
	return m
}

// hasValues tells whether a chart has anything to draw: --min-cell may leave out every
// point.
func hasValues(c *analyse.Chart) bool {
	return slices.ContainsFunc(c.Points, func(p analyse.ChartPoint) bool { return p.Value.Set })
}

// HasLimits tells whether a chart has points enough to be held against limits.
func HasLimits(c *analyse.Chart) bool {
	for i := range c.Points {
		if c.Points[i].Centre.Set {
			return true
		}
	}
	return false
}
