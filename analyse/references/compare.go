package references

import (
	"math"
	"strings"

	"leadline/analyse"
	"leadline/analyse/physical"
	"leadline/ingest"
)

// Apply holds the indices and measurements of a study against the table. A value
// of a suspect calibration is used nowhere, so not here either.
func (t *Table) Apply(s *analyse.Study) {
	if t == nil || len(t.byID) == 0 {
		return
	}
	c := circumstancesOf(s)
	for i := range s.Indices {
		if x := &s.Indices[i]; x.Value != nil {
			x.Compared = c.compare(t.of(x.ID), *x.Value)
		}
	}
	for i := range s.Measurements {
		m := &s.Measurements[i]
		if rows := t.of(m.Measure); len(rows) > 0 {
			if q, ok := valueOf(m, rows[0].unit); ok {
				m.Compared = c.compare(rows, q)
			}
		}
	}
}

// valueOf is the rebuilt value, else the reported one, in unit.
func valueOf(m *analyse.Measurement, unit physical.Unit) (physical.Quantity, bool) {
	switch {
	case m.Verdict == analyse.VerdictSuspect:
		return physical.Quantity{}, false
	case m.Rebuilt != nil:
		return *m.Rebuilt, m.Rebuilt.Unit == unit
	case m.Reported == nil:
		return physical.Quantity{}, false
	}
	factor, ok := factorTo(unit, m.Reported.Unit)
	return physical.Quantity{Value: m.Reported.Value * factor, Unit: unit}, ok
}

// compare gives one comparison for each row that is not contradicted, in the order
// of the table. Rows of one chart of which the week is not told become one.
func (c circumstances) compare(rows []row, q physical.Quantity) []analyse.Comparison {
	var list []analyse.Comparison
	charts := map[chart]int{}
	weeks := map[chart][]week{}
	for i := range rows {
		r := &rows[i]
		untoldOf, applies := c.fits(r)
		if !applies {
			continue
		}
		one := against(r, q)
		one.Untold = strings.Join(untoldOf, ", ")
		if key, span, ok := chartOf(r, untoldOf); ok {
			weeks[key] = append(weeks[key], week{span, one.Standing})
			if _, begun := charts[key]; begun {
				continue
			}
			charts[key] = len(list)
		}
		list = append(list, one)
	}
	for key, at := range charts {
		if len(weeks[key]) > 1 {
			merge(&list[at], weeks[key])
		}
	}
	return list
}

// against says where a value lies. A limit itself is inside.
func against(r *row, q physical.Quantity) analyse.Comparison {
	one := analyse.Comparison{
		Population: r.Population, Limits: r.Limits, Source: r.Source,
		Low: r.low, High: r.high, Unit: r.unit, Standing: analyse.StandingInside,
	}
	switch {
	case r.low.Set && q.Value < r.low.Value:
		one.Standing = analyse.StandingBelow
	case r.high.Set && q.Value > r.high.Value:
		one.Standing = analyse.StandingAbove
	}
	for _, limit := range []ingest.Optional[float64]{r.low, r.high} {
		one.Close = one.Close || limit.Set && math.Abs(q.Value-limit.Value) < q.ExpandedU()
	}
	return one
}
