package export

import (
	"strings"

	"leadline/analyse"
	"leadline/analyse/physical"
	"leadline/export/deid"
	"leadline/ingest"
)

// chartPoint is a point of a chart; first tells that it is the chart's first.
type chartPoint struct {
	chart *analyse.Chart
	*analyse.ChartPoint
	first bool
}

// charts is the table of control charts of an audit or of a check of devices: one row
// for each point. ofDevices says which of the columns a person sees first.
func (w *writer) charts(charts []analyse.Chart, ofDevices bool) Table {
	d := definition[chartPoint]{
		name: "charts", title: "Charts",
		about:   "One row for each point of each control chart, in the order of time; none with identity none.",
		subject: func(r chartPoint) *deid.Subject { return w.aboutUID(r.StudyUID) },
		columns: append(append(w.chartNames(ofDevices), chartValues(ofDevices)...), chartItem()),
	}
	n := 0
	if w.inTime() {
		for i := range charts {
			n += len(charts[i].Points)
		}
	}
	return d.table(w.rules, n, func(yield func(chartPoint) bool) {
		if n == 0 {
			return
		}
		for c := range pointers(charts) {
			for i := range c.Points {
				if !yield(chartPoint{c, &c.Points[i], i == 0}) {
					return
				}
			}
		}
	})
}

func (w *writer) chartNames(ofDevices bool) []column[chartPoint] {
	device, protocol := Aside, Front
	if ofDevices {
		device, protocol = Front, Aside
	}
	return []column[chartPoint]{
		{Column: Column{Name: "protocol", Heading: "Protocol id", Kind: Text, Width: 24, Place: Aside, Meaning: "The protocol whose studies are charted."},
			cell: func(r chartPoint) Cell { return text(r.chart.Protocol) }},
		{Column: Column{Heading: "Protocol", Kind: Text, Width: 28, Wrap: true, Place: protocol},
			cell: func(r chartPoint) Cell { return text(w.result.ProtocolTitle(r.chart.Protocol)) }},
		{Column: Column{Name: "device", Heading: "Device", Kind: Text, Width: 36, Wrap: true, Place: device, Rule: deid.Device, Meaning: "Maker, model and serial number of the device that is charted."},
			cell: func(r chartPoint) Cell {
				if r.chart.Device == nil {
					return Cell{}
				}
				return text(w.device(r.chart.Device))
			}, ruleOf: settled[chartPoint]},
		{Column: Column{Name: "transducer", Heading: "Transducer", Kind: Text, Width: 12, Rule: deid.Code, Place: device, Meaning: "The transducer of the device."},
			cell: func(r chartPoint) Cell {
				if r.chart.Device == nil {
					return Cell{}
				}
				return text(r.chart.Device.Transducer)
			}},
		{Column: Column{Heading: "What is charted", Kind: Text, Width: 46, Wrap: true, Place: Front},
			cell: func(r chartPoint) Cell { return text(r.chart.Title) }},
		{Column: Column{Name: "subject", Heading: "Subject", Kind: Text, Wording: InWords, Width: 17, Place: Aside, Meaning: "complete-studies, items-met and item-met (by week; item-met of every required item that a study lacks, named in the column item), study-length and report-delay (study by study), or the target of a test object (test by test)."},
			cell: func(r chartPoint) Cell { return text(r.chart.Subject) }},
		{Column: Column{Name: "chart", Heading: "Chart", Kind: Text, Wording: InWords, Width: 14, Place: Front, Meaning: "p (limits follow the denominator), individuals, moving-range (distance to the one before), or ewma (exponentially weighted moving average)."},
			cell: func(r chartPoint) Cell { return text(string(r.chart.Kind)) }},
		{Column: Column{Name: "point", Heading: "Week or day", Kind: Text, Width: 11, Place: Front, Meaning: "ISO 8601 week, or day of the study or test."},
			cell: func(r chartPoint) Cell { return text(r.Label) }},
		{Column: Column{Name: "study_uid", Heading: "Study UID", Kind: Text, Width: 18, Place: Back, Rule: deid.UID, Meaning: "Study Instance UID (0020,000D), where the point is one study; of an earlier audit too."},
			cell: func(r chartPoint) Cell { return text(r.StudyUID) }},
	}
}

func chartValues(ofDevices bool) []column[chartPoint] {
	counts := Front
	if ofDevices {
		counts = Aside // no chart of a device counts anything
	}
	return []column[chartPoint]{
		{Column: Column{Name: "numerator", Heading: "Met", Kind: Integer, Width: 7, Place: counts, Meaning: "Studies or items that meet it, on p-charts."},
			cell: func(r chartPoint) Cell { return r.counted(r.Numerator) }},
		{Column: Column{Name: "denominator", Heading: "Of", Kind: Integer, Width: 7, Place: counts, Meaning: "Studies or items that could be judged, on p-charts."},
			cell: func(r chartPoint) Cell { return r.counted(r.Denominator) }},
		{Column: Column{Name: "value", Heading: "Value", Kind: Number, Width: 10, Place: Front, Meaning: "What is charted, in unit; absent where it is not known."},
			cell: func(r chartPoint) Cell { return r.inPlaces(r.Value) }},
		{Column: Column{Name: "centre", Heading: "Centre", Kind: Number, Width: 10, Place: Front, Meaning: "Centre line: the share, or the mean, of the baseline."},
			cell: func(r chartPoint) Cell { return r.inPlaces(r.Centre) }},
		{Column: Column{Name: "lower", Heading: "Lower limit", Kind: Number, Width: 10, Place: Front, Meaning: "Lower three-sigma limit, of shares and times not below 0. Limits say what a steady process would do, not what is good."},
			cell: func(r chartPoint) Cell { return r.inPlaces(r.Lower) }},
		{Column: Column{Name: "upper", Heading: "Upper limit", Kind: Number, Width: 10, Place: Front, Meaning: "Upper three-sigma limit."},
			cell: func(r chartPoint) Cell { return r.inPlaces(r.Upper) }},
		{Column: Column{Name: "unit", Heading: "Unit", Kind: Text, Wording: UnitSigns, Width: 6, Place: Front, Meaning: "UCUM code of value, centre, lower and upper."},
			cell: func(r chartPoint) Cell { return text(string(r.chart.Unit)) }},
		{Column: Column{Name: "baseline", Heading: "Baseline", Kind: Flag, Width: 10, Meaning: "Whether the limits were made from this point, among others: in an audit from the points of earlier audits where they are 10 at least, else from all; of a test object from the tests that its file names."},
			cell: func(r chartPoint) Cell { return flag(r.Baseline) }},
		{Column: Column{Name: "signals", Heading: "Signals", Kind: Text, Wording: InWords, Width: 24, Wrap: true, Place: Front, Signal: CautionIfText, Meaning: signalMeaning()},
			cell: func(r chartPoint) Cell { return text(strings.Join(r.Signals, listSeparator)) }},
		{Column: Column{Name: "note", Heading: "Note", Kind: Text, Width: 44, Wrap: true, Place: Front, Meaning: "What else is to be known of the point, and on the first point of a chart of the chart, such as why it has no limits."},
			cell: func(r chartPoint) Cell { return text(r.note()) }},
		{Column: Column{Name: "source", Heading: "Source", Kind: Text, Width: 44, Place: Aside, Meaning: "Where limits and rules were published."},
			cell: func(r chartPoint) Cell { return text(r.chart.Source) }},
	}
}

func chartItem() column[chartPoint] {
	return column[chartPoint]{Column: Column{Name: "item", Heading: "Item id", Kind: Text, Width: 24, Place: Aside, Meaning: "The protocol item, where a single one is charted."},
		cell: func(r chartPoint) Cell { return text(r.chart.Item) }}
}

// chartPlaces are the digits that a sheet shows after the point, by unit: times of
// people are known to the second, errors of a test object to the micrometre at best.
var chartPlaces = map[physical.Unit]int{physical.S: 0, "h": 2, physical.MM: 3}

// inPlaces is a value of the chart as a sheet shows it; shares are shown in per cent.
func (r chartPoint) inPlaces(v ingest.Optional[float64]) Cell {
	c := optional(v)
	switch places, known := chartPlaces[r.chart.Unit]; {
	case c.Kind != Number:
	case r.chart.Kind == analyse.ChartP:
		c.Kind = Share
	case known:
		c = rounded(c.Number, places)
	}
	return c
}

// counted is a count of a p-chart, absent where it is left out.
func (r chartPoint) counted(n int) Cell {
	if r.chart.Kind != analyse.ChartP || r.Denominator == 0 && r.Note != "" {
		return Cell{}
	}
	return count(n)
}

func (r chartPoint) note() string {
	if !r.first || r.chart.Note == "" {
		return r.Note
	}
	if r.Note == "" {
		return r.chart.Note
	}
	return r.chart.Note + listSeparator + r.Note
}
