package testobject

import (
	"fmt"
	"slices"
	"time"

	"leadline/analyse"
	"leadline/analyse/physical"
	"leadline/analyse/stats"
	"leadline/ingest"
	"leadline/ingest/protocol"
	"leadline/ingest/terms"
)

// EWMA charts take λ 0.3 and three sigma, as the worked example of NIST/SEMATECH
// e-Handbook 6.3.2.4.
const (
	ewmaLambda = 0.3
	ewmaWidth  = 3
)

// leastBaseline is how many tests limits are made from at least, and wantedBaseline
// how many leave few false alarms: common practice, no source.
const leastBaseline, wantedBaseline = 5, 20

// gapIntervals is how many test intervals may lie between two tests for a moving
// range between them: no range is built over a missing test.
const gapIntervals = 2

// ewmaBeyond is the id of the signal of an EWMA chart.
const ewmaBeyond = "ewma-beyond-limits"

// charts are those of a series: the errors themselves and their EWMA.
func (r *series) charts(o *protocol.TestObject) []analyse.Chart {
	tests := dated(r.usable())
	if len(tests) == 0 {
		return nil
	}
	device := tests[len(tests)-1].device
	base, hasBase := baselineOf(o, device)
	points, values := r.points(tests, o, base)
	limits, _, ok := stats.Individuals(values)
	note := limitsNote(values, ok, hasBase)
	ok = ok && baselineSize(values) >= leastBaseline
	individuals := analyse.Chart{
		Kind: analyse.ChartIndividuals, Subject: r.target.ID, Title: r.target.Title + ", error", Device: device, Unit: physical.MM,
		Points: points, Source: "NIST/SEMATECH e-Handbook 6.3.2.2", Note: note,
	}
	ewma := individuals
	ewma.Kind, ewma.Title, ewma.Source = analyse.ChartEWMA, r.target.Title+", EWMA of the error", "NIST/SEMATECH e-Handbook 6.3.2.4, λ 0.3, 3 sigma"
	ewma.Points = slices.Clone(points)
	if !ok {
		return []analyse.Chart{individuals} // an average needs a target to begin at
	}
	mark(individuals.Points, limits, stats.BeyondLimits.ID)
	sigma := (limits.Upper - limits.Centre) / 3
	for i, z := range stats.EWMA(plain(values), limits.Centre, ewmaLambda) {
		ewma.Points[i].Value = ingest.Some(z)
	}
	mark(ewma.Points, stats.EWMALimits(limits.Centre, sigma, ewmaLambda, ewmaWidth), ewmaBeyond)
	return []analyse.Chart{individuals, ewma}
}

// points are the errors by day, and the same for the arithmetic of limits.
func (r *series) points(tests []*test, o *protocol.TestObject, base protocol.Baseline) ([]analyse.ChartPoint, []stats.Individual) {
	var points []analyse.ChartPoint
	var values []stats.Individual
	for i, e := range r.errors(tests, o.Material.AssumedMS) {
		t := tests[i]
		p := analyse.ChartPoint{
			Label: t.study.Start.Date(), StudyUID: t.study.UID, Denominator: len(t.measured),
			Value: ingest.Some(e), Baseline: within(base, t.study.Start),
		}
		v := stats.Individual{Value: e, Baseline: p.Baseline}
		if i > 0 {
			v.Gap = gap(tests[i-1].study.Start, t.study.Start, o.IntervalMonths)
			if tests[i-1].device.Software != t.device.Software {
				p.Note = "software changed"
			}
		}
		points, values = append(points, p), append(values, v)
	}
	return points, values
}

// mark writes the limits beside the points and the signal where one lies beyond.
func mark(points []analyse.ChartPoint, l stats.Limits, signal string) {
	for i := range points {
		p := &points[i]
		p.Centre, p.Lower, p.Upper = ingest.Some(l.Centre), ingest.Some(l.Lower), ingest.Some(l.Upper)
		if l.Beyond(p.Value.Value) {
			p.Signals = []string{signal}
		}
	}
}

// limitsNote says why there are no limits, or how far they can be trusted.
func limitsNote(values []stats.Individual, ok, hasBase bool) string {
	n := baselineSize(values)
	switch {
	case !hasBase:
		return "no limits: the file of the test object gives no baseline for the device"
	case n < leastBaseline:
		return fmt.Sprintf("no limits: %s in the baseline, at least %d are needed", analyse.Counted(n, "test", "tests"), leastBaseline)
	case !ok:
		return "no limits: the tests of the baseline do not vary, or none follows another"
	case n < wantedBaseline:
		return fmt.Sprintf("limits from %d tests: false alarms come more often than from %d or more", n, wantedBaseline)
	}
	return ""
}

func baselineSize(values []stats.Individual) int {
	n := 0
	for _, v := range values {
		if v.Baseline {
			n++
		}
	}
	return n
}

func plain(values []stats.Individual) []float64 {
	out := make([]float64, len(values))
	for i, v := range values {
		out[i] = v.Value
	}
	return out
}

// baselineOf is the first baseline that is for the device.
func baselineOf(o *protocol.TestObject, d *ingest.Device) (protocol.Baseline, bool) {
	for _, b := range o.Baselines {
		fits := func(w string) bool { return terms.Contains(d.Words(), w) }
		if len(b.Devices) == 0 || slices.ContainsFunc(b.Devices, fits) {
			return b, true
		}
	}
	return protocol.Baseline{}, false
}

func within(b protocol.Baseline, s ingest.Stamp) bool {
	day := s.T.Truncate(24 * time.Hour)
	return !b.From.IsZero() && !day.Before(b.From) && !day.After(b.To)
}

func dated(tests []*test) []*test {
	return slices.DeleteFunc(slices.Clone(tests), func(t *test) bool { return t.study.Start.IsZero() })
}

// daysPerMonth is the mean length of a month of the Gregorian calendar.
const daysPerMonth = 30.436875

func gap(before, after ingest.Stamp, months ingest.Optional[int]) bool {
	return months.Set && after.T.Sub(before.T).Hours()/24 > gapIntervals*float64(months.Value)*daysPerMonth
}
