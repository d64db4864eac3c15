package export

import (
	"strings"

	"leadline/analyse"
	"leadline/export/deid"
)

// chartRow is one point of a chart; the points of a chart follow each other.
type chartRow struct {
	chart *analyse.Chart
	point *analyse.ChartPoint
}

// testCharts is the table of control charts, one row for each point; a chart without
// points has none.
func (w *writer) testCharts(charts []analyse.Chart) Table {
	d := definition[chartRow]{
		name: "charts", title: "Control charts",
		about:   "One row for each point of each control chart, in the order of time, with the limits it is held against.",
		subject: func(r chartRow) *deid.Subject { return w.aboutUID(r.point.StudyUID) },
		columns: append(w.chartNames(), chartValues()...),
	}
	n := 0
	for i := range charts {
		n += len(charts[i].Points)
	}
	return d.table(w.rules, n, func(yield func(chartRow) bool) {
		for i := range charts {
			for k := range charts[i].Points {
				if !yield(chartRow{&charts[i], &charts[i].Points[k]}) {
					return
				}
			}
		}
	})
}

func (w *writer) chartNames() []column[chartRow] {
	return []column[chartRow]{
		{Column: Column{Name: "chart", Heading: "Chart", Kind: Text, Width: 12, Place: Front, Meaning: "How its limits are made: p, individuals, moving-range, ewma (exponentially weighted moving average)."},
			cell: func(r chartRow) Cell { return text(string(r.chart.Kind)) }},
		{Column: Column{Name: "subject", Heading: "Subject", Kind: Text, Width: 16, Place: Aside, Meaning: "What is charted: a kebab word, or the name of a measure, item or target."},
			cell: func(r chartRow) Cell { return text(r.chart.Subject) }},
		{Column: Column{Heading: "What is charted", Kind: Text, Width: 40, Wrap: true, Place: Front},
			cell: func(r chartRow) Cell { return text(r.chart.Title) }},
		{Column: Column{Name: "protocol", Heading: "Protocol", Kind: Text, Width: 20, Place: Aside, Meaning: "The protocol, where it narrows the subject."},
			cell: func(r chartRow) Cell { return text(r.chart.Protocol) }},
		{Column: Column{Name: "device", Heading: "Device", Kind: Text, Width: 36, Wrap: true, Place: Front, Rule: deid.Device, Meaning: "Maker, model and serial number, where they narrow the subject."},
			cell: func(r chartRow) Cell { return text(w.device(r.chart.Device)) }, ruleOf: settled[chartRow]},
		{Column: Column{Name: "transducer", Heading: "Transducer", Kind: Text, Width: 12, Place: Front, Meaning: "The transducer of the device, where each is charted on its own."},
			cell: func(r chartRow) Cell {
				if r.chart.Device == nil {
					return Cell{}
				}
				return text(r.chart.Device.Transducer)
			}},
		{Column: Column{Name: "operator", Heading: "Operator", Kind: Text, Width: 12, Place: Aside, Rule: deid.Person, Meaning: "Who scanned, where that narrows the subject."},
			cell: func(r chartRow) Cell { return text(r.chart.Operator) }},
		{Column: Column{Name: "point", Heading: "Point", Kind: Text, Width: 12, Place: Front, Rule: deid.Period, Meaning: "Day, month or week of the point: 2026-09-02, 2026-09, 2026-W36."},
			cell: func(r chartRow) Cell { return text(r.point.Label) }},
		{Column: Column{Name: "study_uid", Heading: "Study UID", Kind: Text, Width: 18, Place: Back, Rule: deid.UID, Meaning: "Study Instance UID (0020,000D) of a point that stands for one study."},
			cell: func(r chartRow) Cell { return text(r.point.StudyUID) }},
	}
}

func chartValues() []column[chartRow] {
	return []column[chartRow]{
		{Column: Column{Name: "value", Heading: "Value", Kind: Number, Width: 9, Places: chartPlaces, Place: Front, Meaning: "The value in unit; absent where there is nothing to compute it from."},
			cell: func(r chartRow) Cell { return optional(r.point.Value) }},
		{Column: Column{Name: "unit", Heading: "Unit", Kind: Text, Width: 6, Place: Front, Meaning: "UCUM code of value and limits, 1 for a rate."},
			cell: func(r chartRow) Cell { return text(string(r.chart.Unit)) }},
		{Column: Column{Name: "lower", Heading: "Lower limit", Kind: Number, Width: 9, Places: chartPlaces, Place: Front, Meaning: "Lower limit of the point: what a steady process would do, not what is good."},
			cell: func(r chartRow) Cell { return optional(r.point.Lower) }},
		{Column: Column{Name: "centre", Heading: "Centre", Kind: Number, Width: 9, Places: chartPlaces, Place: Front, Meaning: "Centre line."},
			cell: func(r chartRow) Cell { return optional(r.point.Centre) }},
		{Column: Column{Name: "upper", Heading: "Upper limit", Kind: Number, Width: 9, Places: chartPlaces, Place: Front, Meaning: "Upper limit of the point."},
			cell: func(r chartRow) Cell { return optional(r.point.Upper) }},
		{Column: Column{Name: "signals", Heading: "Signals", Kind: Text, Width: 20, Wrap: true, Place: Front, Signal: CautionIfText, Meaning: "Rules that end at this point, separated by \"; \"; absent where none does."},
			cell: func(r chartRow) Cell { return text(strings.Join(r.point.Signals, listSeparator)) }},
		{Column: Column{Name: "baseline", Heading: "Baseline", Kind: Flag, Width: 9, Place: Front, Meaning: "Whether the limits were made from this point, among others."},
			cell: func(r chartRow) Cell { return flag(r.point.Baseline) }},
		{Column: Column{Name: "numerator", Heading: "Numerator", Kind: Integer, Width: 10, Place: Aside, Meaning: "What was counted, for a rate."},
			cell: func(r chartRow) Cell {
				if r.chart.Kind != analyse.ChartP {
					return Cell{}
				}
				return count(r.point.Numerator)
			}},
		{Column: Column{Name: "denominator", Heading: "Values", Kind: Integer, Width: 8, Place: Front, Meaning: "Out of how many, for a rate; the values behind any other point."},
			cell: func(r chartRow) Cell { return count(r.point.Denominator) }},
		{Column: Column{Name: "source", Heading: "Source", Kind: Text, Width: 44, Place: Aside, Meaning: "Where limits and rules were published."},
			cell: func(r chartRow) Cell { return text(r.chart.Source) }},
		{Column: Column{Name: "note", Heading: "Note", Kind: Text, Width: 60, Wrap: true, Place: Front, Meaning: "Of the point, and why the chart has no limits or what a reader must know of them."},
			cell: func(r chartRow) Cell { return text(strings.Join(filled(r.point.Note, r.chart.Note), "; ")) }},
	}
}
