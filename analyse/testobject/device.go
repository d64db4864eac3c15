package testobject

import (
	"slices"
	"time"

	"leadline/analyse"
	"leadline/analyse/stats"
	"leadline/ingest"
	"leadline/ingest/protocol"
)

// tested is everything said about one device with one transducer.
type tested struct {
	device  analyse.DeviceTest
	targets []analyse.TargetResult
	charts  []analyse.Chart
}

func (c *collected) device(p probe, d *ingest.Device, o *protocol.TestObject, now ingest.Stamp) tested {
	t := tested{device: analyse.DeviceTest{Device: d, Verdict: analyse.TestPass, Tests: len(c.scans[p])}}
	if d.Serial == "" {
		t.device.Note = "no serial number: several devices may hide behind this one"
	}
	if t.device.Tests == 0 {
		t.device.Verdict = analyse.TestNever
		t.targets = []analyse.TargetResult{{Device: d, Scope: analyse.ScopeLatest, Verdict: analyse.TestNever, Note: t.device.Note}}
		return t
	}
	for _, s := range c.scans[p] {
		if s.Start.T.After(t.device.Last.T) {
			t.device.Last = s.Start
		}
	}
	t.device.NextDue, t.device.Overdue = due(t.device.Last, o.IntervalMonths, now)
	for _, r := range c.probes[p] {
		t.take(r, o)
	}
	for i := range t.targets {
		t.targets[i].NextDue, t.targets[i].Overdue = t.device.NextDue, t.device.Overdue
	}
	return t
}

// take judges one target: the newest test, all of them where there are several, and
// its charts.
func (t *tested) take(r *series, o *protocol.TestObject) {
	tests := r.usable()
	if len(tests) == 0 {
		res := r.row(t.device.Device)
		res.Scope, res.Verdict = analyse.ScopeLatest, analyse.TestNotMeasured
		res.Note = "no length of the target in " + analyse.Counted(t.device.Tests, "scan", "scans")
		t.latest(res)
		return
	}
	var repeats *stats.Repeatability
	if rep, ok := r.repeats(tests, o.Material.AssumedMS); ok {
		repeats = &rep
	}
	t.latest(r.result(tests[len(tests)-1:], analyse.ScopeLatest, repeats, o))
	if len(tests) > 1 {
		t.targets = append(t.targets, r.result(tests, analyse.ScopeAll, repeats, o))
	}
	charts := r.charts(o)
	t.charts = append(t.charts, charts...)
	if slices.ContainsFunc(charts, func(c analyse.Chart) bool { return c.SignalsLater() }) {
		t.device.Signalled = append(t.device.Signalled, r.target.Title)
	}
}

// latest adds the row of a newest test, which counts for the device.
func (t *tested) latest(res analyse.TargetResult) {
	t.targets = append(t.targets, res)
	if slices.Index(analyse.TestVerdicts, res.Verdict) < slices.Index(analyse.TestVerdicts, t.device.Verdict) {
		t.device.Verdict = res.Verdict
	}
	if res.Verdict == analyse.TestFail {
		t.device.Failing = append(t.device.Failing, res.Title)
	}
}

// due is the day of the next test, and whether it was before now.
func due(last ingest.Stamp, months ingest.Optional[int], now ingest.Stamp) (ingest.Stamp, ingest.Optional[bool]) {
	if !months.Set || last.IsZero() {
		return ingest.Stamp{}, ingest.Optional[bool]{}
	}
	day := addMonths(last.T.Truncate(24*time.Hour), months.Value)
	return ingest.Stamp{T: day}, ingest.Some(day.Before(now.T.Truncate(24 * time.Hour)))
}

// addMonths keeps to the last day of a month that is too short.
func addMonths(day time.Time, months int) time.Time {
	later := day.AddDate(0, months, 0)
	if later.Day() != day.Day() {
		return later.AddDate(0, 0, -later.Day())
	}
	return later
}
