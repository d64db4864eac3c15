package month

import (
	"fmt"
	"time"

	"leadline/analyse"
	"leadline/analyse/physical"
	"leadline/analyse/stats"
	"leadline/ingest"
)

// leastPoints is how many points a chart needs for limits and rules: as many as a run
// chart (Anhøj and Olesen 2014), and as the shortest published chart of individuals
// that we know has (NIST/SEMATECH e-Handbook 6.3.2.2).
const leastPoints = stats.LeastUseful

// Sources of the charts.
const (
	shareSource = "p-chart: NIST/SEMATECH e-Handbook 6.3.3.2; one point beyond a limit: Western Electric 1956; runs and crossings of the median: Anhøj and Olesen 2014"
	widerSource = shareSource + "; limits widened: Laney 2002"
)

// week is one point of a chart of shares.
type week struct {
	name   string
	monday time.Time
	count  count
	// earlier tells that all its studies are of earlier audits.
	earlier bool
	// hidden tells that the count may not be shown, and is not used.
	hidden bool
}

// shareCharts are the p-charts of one protocol by week, without the counts of those
// that are hidden.
func shareCharts(protocol string, all []*entry, hidden map[hiddenWeek]bool) []analyse.Chart {
	var studies, items []week
	for _, e := range all {
		needed, applied := e.needed(protocol)
		if !applied || e.week == "" {
			continue
		}
		studies, items = inWeek(studies, e, needed.study()), inWeek(items, e, needed)
	}
	if len(studies) == 0 {
		return nil
	}
	for i := range studies {
		studies[i].hidden = hidden[hiddenWeek{protocol, string(analyse.CompleteStudies), studies[i].name}]
		items[i].hidden = hidden[hiddenWeek{protocol, string(analyse.ItemsMet), items[i].name}]
	}
	return []analyse.Chart{
		shareChart(analyse.Chart{Protocol: protocol, Subject: string(analyse.CompleteStudies), Title: "Complete studies by week", Source: shareSource}, studies, false),
		shareChart(analyse.Chart{Protocol: protocol, Subject: string(analyse.ItemsMet), Title: "Required items met by week", Source: widerSource}, items, true),
	}
}

// inWeek adds to the week of an entry, which is the last one or a new one.
func inWeek(weeks []week, e *entry, c count) []week {
	if last := len(weeks) - 1; last < 0 || weeks[last].name != e.week {
		day := e.at.Reading().Truncate(24 * time.Hour)
		weeks = append(weeks, week{name: e.week, monday: day.AddDate(0, 0, -(int(day.Weekday())+6)%7), earlier: true})
	}
	w := &weeks[len(weeks)-1]
	w.count.join(c)
	w.earlier = w.earlier && e.audit != atHand
	return weeks
}

// shareChart fills a chart of shares. Where things go together, as the items of one
// study do, grouped widens the limits by what the weeks show.
func shareChart(c analyse.Chart, weeks []week, grouped bool) analyse.Chart {
	c.Kind, c.Unit = analyse.ChartP, physical.One
	counts := make([]stats.Count, len(weeks))
	for i, w := range weeks {
		if w.hidden {
			c.Points = append(c.Points, analyse.ChartPoint{Label: w.name, Note: "suppressed"})
			continue
		}
		counts[i] = stats.Count{Met: w.count.met, Of: w.count.of, Gap: i > 0 && w.monday.Sub(weeks[i-1].monday) > 7*24*time.Hour}
		point := analyse.ChartPoint{Label: w.name, Numerator: w.count.met, Denominator: w.count.of}
		if w.count.of > 0 {
			point.Value = ingest.Some(float64(w.count.met) / float64(w.count.of))
		}
		if w.count.of < analyse.SmallDenominator {
			point.Note = "small denominator"
		}
		c.Points = append(c.Points, point)
	}
	markBaseline(len(weeks), func(i int) bool { return counts[i].Of > 0 }, func(i int) bool { return weeks[i].earlier },
		func(i int) { counts[i].Baseline, c.Points[i].Baseline = true, true })
	limitShares(&c, counts, grouped)
	return c
}

// markBaseline chooses the points that limits are made from: those of earlier audits
// where they are enough, else all that count.
func markBaseline(n int, counts, earlier func(int) bool, mark func(int)) {
	before := 0
	for i := range n {
		if counts(i) && earlier(i) {
			before++
		}
	}
	for i := range n {
		if counts(i) && (before < leastPoints || earlier(i)) {
			mark(i)
		}
	}
}

func limitShares(c *analyse.Chart, counts []stats.Count, grouped bool) {
	useful := 0
	for i := range counts {
		if counts[i].Of > 0 {
			useful++
		}
	}
	p, ok := stats.Share(counts)
	switch {
	case useful < leastPoints || !ok:
		c.Note = tooFew(useful, "weeks")
		return
	case p == 0 || p == 1:
		c.Note = "no limits: all or none of the studies behind them meet it, so that nothing varies"
		return
	}
	factor := 1.0
	if grouped {
		factor, ok = stats.ShareSpread(p, counts)
		if !ok {
			c.Note = "no limits: there are no two weeks that follow each other, so that the scatter of the weeks is not known"
			return
		}
		c.Note = fmt.Sprintf("items of one study go together: limits %.2f times as wide as those of single items", factor)
	}
	for i := range counts {
		if l, ok := stats.ShareLimits(p, counts[i].Of, factor); ok {
			setLimits(&c.Points[i], l)
			if stats.ShareSignal(l, counts[i].Met, counts[i].Of) {
				c.Points[i].Signals = append(c.Points[i].Signals, stats.BeyondLimits.ID)
			}
		}
	}
	runSignals(c)
}

// runSignals adds what runs and crossings of the median say.
func runSignals(c *analyse.Chart) {
	var values []float64
	var at []int
	for i := range c.Points {
		if v, ok := c.Points[i].Value.Get(); ok {
			values, at = append(values, v), append(at, i)
		}
	}
	runs, ok := stats.RunsOf(values)
	if !ok {
		c.Note = notes(c.Note, "runs are not judged: too many weeks lie on the median or on one side of it")
		return
	}
	for k, i := range at {
		c.Points[i].Signals = append(c.Points[i].Signals, ids(runs.Signals(k))...)
	}
}

func ids(rules []stats.Rule) []string {
	var list []string
	for _, r := range rules {
		list = append(list, r.ID)
	}
	return list
}

func setLimits(p *analyse.ChartPoint, l stats.Limits) {
	p.Centre, p.Lower, p.Upper = ingest.Some(l.Centre), ingest.Some(l.Lower), ingest.Some(l.Upper)
}

func tooFew(points int, what string) string {
	return fmt.Sprintf("no limits: %d of the %d %s that a chart needs (Anhøj and Olesen 2014)", points, leastPoints, what)
}
