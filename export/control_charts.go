package export

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"leadline/analyse"
	"leadline/ingest"
)

// mostOfTestObject charts are drawn of a test object: two of each target of each
// device, and more than a person looks through.
const mostOfTestObject = 120

// controlCharts is the sheet that draws the tests of each device over time, nil where
// there is no test.
func (w *writer) controlCharts(o *analyse.TestObject) *Meeting {
	if o == nil || len(o.Charts) == 0 {
		return nil
	}
	m := &Meeting{Title: "Control charts", Most: mostOfTestObject, Lines: []string{
		"For each device, transducer and target of the test object the error of each test, and its exponentially weighted moving average (EWMA). The single test shows a step, the average a slow drift. Those that signal after their baseline come first.",
		"A steady device gives some signals by chance. The verdict of the sheet Test object counts; a signal asks for a look.",
	}}
	if !w.inTime() {
		return m
	}
	for _, c := range byUrgency(o.Charts) {
		if c.Device != nil {
			c.Title = strings.Join(filled(fmt.Sprint(w.namedDevice(c.Device), " ", c.Device.Transducer), clean(c.Title)), ": ")
		}
		m.Charts = append(m.Charts, c)
	}
	return m
}

// byUrgency are the charts with those of targets that signal first, then those that
// have limits; the charts of one target stay together.
func byUrgency(charts []analyse.Chart) []analyse.Chart {
	type series struct {
		device *ingest.Device
		target string
	}
	of := func(c *analyse.Chart) series { return series{c.Device, c.Subject} }
	rank := map[series]int{}
	for i := range charts {
		c := &charts[i]
		switch {
		case c.SignalsLater():
			rank[of(c)] = 2
		case HasLimits(c):
			rank[of(c)] = max(rank[of(c)], 1)
		}
	}
	sorted := slices.Clone(charts)
	slices.SortStableFunc(sorted, func(a, b analyse.Chart) int { return cmp.Compare(rank[of(&b)], rank[of(&a)]) })
	return sorted
}
