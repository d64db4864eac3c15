package month

import (
	"fmt"
	"strings"

	"leadline/analyse"
	"leadline/analyse/physical"
	"leadline/analyse/stats"
	"leadline/ingest"
)

const (
	valueSource = "individuals chart: NIST/SEMATECH e-Handbook 6.3.2.2; run rules: Western Electric 1956"
	rangeSource = "moving-range chart: NIST/SEMATECH e-Handbook 6.3.2.2; one point beyond the limit alone, since ranges share values"
)

// skewed is what a reader of times must know.
const skewed = "times are seldom normally distributed: expect false alarms at the upper limit"

// quantity is a time of a study.
type quantity struct {
	subject, title string
	unit           physical.Unit
	of             func(*entry) ingest.Optional[float64]
	// asked tells that a study can have it; others are passed over.
	asked func(*entry) bool
	left  string
}

var quantities = []quantity{
	{"study-length", "Study length, study by study", physical.S,
		func(e *entry) ingest.Optional[float64] { return e.durationS }, func(*entry) bool { return true }, ""},
	{"report-delay", "Hours from the last image to the report, study by study", physical.Hour,
		func(e *entry) ingest.Optional[float64] { return e.delayH }, func(e *entry) bool { return e.reported }, "without a report"},
}

// timeCharts are the individuals and moving-range charts of one protocol.
func timeCharts(protocol string, all []*entry) []analyse.Chart {
	var charts []analyse.Chart
	for _, q := range quantities {
		var studies []*entry
		left := 0
		for _, e := range all {
			switch _, applied := e.needed(protocol); {
			case !applied || e.at.IsZero():
			case !q.asked(e):
				left++
			default:
				studies = append(studies, e)
			}
		}
		if len(studies) > 0 {
			charts = append(charts, q.charts(protocol, studies, left)...)
		}
	}
	return charts
}

// charts makes both charts of the studies. A study without the time is a gap: no
// moving range and no run goes over it.
func (q quantity) charts(protocol string, studies []*entry, left int) []analyse.Chart {
	values := analyse.Chart{Kind: analyse.ChartIndividuals, Protocol: protocol, Subject: q.subject, Title: q.title, Unit: q.unit, Source: valueSource}
	ranges := values
	ranges.Kind, ranges.Title, ranges.Source = analyse.ChartMovingRange, q.title+": moving range", rangeSource
	var series []stats.Individual
	var at []int
	gap := false
	for i, e := range studies {
		point := analyse.ChartPoint{Label: e.at.Date(), StudyUID: e.uid}
		if v, ok := q.of(e).Get(); ok {
			point.Value, point.Denominator = ingest.Some(v), 1
			series, at = append(series, stats.Individual{Value: v, Gap: gap}), append(at, i)
			gap = false
		} else {
			point.Note, gap = "not known", true
		}
		values.Points, ranges.Points = append(values.Points, point), append(ranges.Points, analyse.ChartPoint{Label: point.Label, StudyUID: point.StudyUID})
	}
	markBaseline(len(series), func(int) bool { return true }, func(k int) bool { return studies[at[k]].audit != atHand }, func(k int) {
		series[k].Baseline, values.Points[at[k]].Baseline = true, true
	})
	limitTimes(&values, &ranges, series, at)
	values.Note = notes(values.Note, leftOut(left, q.left))
	return []analyse.Chart{values, ranges}
}

// limitTimes fills limits and signals of both charts; at tells the points of the series.
func limitTimes(values, ranges *analyse.Chart, series []stats.Individual, at []int) {
	for k := range series {
		if r, ok := stats.MovingRange(series, k); ok {
			p := &ranges.Points[at[k]]
			p.Value, p.Denominator, p.Baseline = ingest.Some(r), 2, series[k].Baseline && series[k-1].Baseline
		}
	}
	if len(series) < leastPoints {
		values.Note = tooFew(len(series), "studies with a time")
		ranges.Note = values.Note
		return
	}
	x, mr, ok := stats.Individuals(series)
	if !ok {
		values.Note = "no limits: the times do not vary, or none follows another"
		ranges.Note = values.Note
		return
	}
	values.Note = skewed
	signals := stats.WesternElectric(series, x)
	x.Lower = floored(x.Lower, series)
	for k, i := range at {
		setLimits(&values.Points[i], x)
		values.Points[i].Signals = ids(signals[k])
		p := &ranges.Points[i]
		if r, has := p.Value.Get(); has {
			setLimits(p, mr)
			if mr.Beyond(r) {
				p.Signals = []string{stats.BeyondLimits.ID}
			}
		}
	}
}

// floored is a lower limit for times: none is below 0, unless clocks say so.
func floored(lower float64, series []stats.Individual) float64 {
	for _, s := range series {
		if s.Value < 0 {
			return lower
		}
	}
	return max(0, lower)
}

func leftOut(n int, why string) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprintf("not in it: %s %s", analyse.Counted(n, "study", "studies"), why)
}

func notes(parts ...string) string {
	var said []string
	for _, p := range parts {
		if p != "" {
			said = append(said, p)
		}
	}
	return strings.Join(said, "; ")
}
