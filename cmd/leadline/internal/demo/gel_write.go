package demo

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"strings"
	"time"

	"golang.org/x/sync/errgroup"
)

// The files beside the scans of the test object.
const (
	gelFile  = "test-object.yaml"
	gelTruth = "truth.csv"
)

// gelTest is one test that will be made.
type gelTest struct {
	device *gelDevice
	month  int
	day    time.Time
	degree float64
}

// gelPlan is every test in the order of devices. All devices are tested on one day of
// a month, at the temperature of that day.
func gelPlan(seed int64) []gelTest {
	rng := rand.New(rand.NewPCG(uint64(seed), 0x6E1))
	var days []time.Time
	var degrees []float64
	for m := range gelMonths {
		days = append(days, gelStart.AddDate(0, m, 9+rng.IntN(5)))
		degrees = append(degrees, math.Round(10*(20+5*rng.Float64()))/10)
	}
	var list []gelTest
	for i := range gelDevices {
		for m := range gelDevices[i].months {
			list = append(list, gelTest{&gelDevices[i], m, days[m], degrees[m]})
		}
	}
	return list
}

// WriteTestObject writes scans of the test object below dir, one study of a patient
// made with a device that was never tested, the file of the test object
// (test-object.yaml) and what must be found (truth.csv). Of the options it takes the
// seed.
func WriteTestObject(ctx context.Context, dir string, o Options) (Summary, error) {
	plan := gelPlan(o.Seed)
	counts := make([]Summary, len(plan)+1)
	group, ctx := errgroup.WithContext(ctx)
	group.SetLimit(runtime.GOMAXPROCS(0))
	for i, t := range plan {
		group.Go(func() error {
			if err := ctx.Err(); err != nil {
				return err
			}
			var err error
			counts[i], err = t.device.scan(o.Seed, i, t.month, t.day, gelSpeed+gelPerDegree*(t.degree-gelDegrees), o.Blank).write(dir)
			return err
		})
	}
	group.Go(func() (err error) {
		p := patientPlan(o.Seed, len(plan))
		counts[len(plan)], err = p.build(o.Seed, true).write(dir)
		return err
	})
	if err := group.Wait(); err != nil {
		return Summary{}, fmt.Errorf("writing the scans of the test object: %w", err)
	}
	total := Summary{Studies: len(counts)}
	for _, n := range counts {
		total.Files, total.Bytes = total.Files+n.Files, total.Bytes+n.Bytes
	}
	truth, rows, err := gelTruthCSV()
	if err != nil {
		return Summary{}, err
	}
	total.Planted = rows
	if err := writeFile(dir, gelFile, gelYAML(plan), &total); err != nil {
		return Summary{}, err
	}
	return total, writeFile(dir, gelTruth, truth, &total)
}

// patientPlan is the study of a patient: after the last test, with a device that has none.
func patientPlan(seed int64, ordinal int) plan {
	p := plan{ordinal: ordinal, kind: lung, device: neverTested}.dated(seed, 0, 1)
	p.day = gelStart.AddDate(0, gelMonths-1, 24)
	return p
}

// gelYAML is the file of the test object.
func gelYAML(plan []gelTest) []byte {
	var b strings.Builder
	b.WriteString("language: 1\nname: gel-block\ntitle: Gel block with pins (invented)\n" +
		"note: Written by leadline demo --test-object; nothing in it is of a real test object.\n" +
		"scans:\n  words: [test object*]\n  temperatures:\n")
	seen := map[time.Time]bool{}
	for _, t := range plan {
		if !seen[t.day] {
			fmt.Fprintf(&b, "    %s: %.1f\n", t.day.Format(time.DateOnly), t.degree)
		}
		seen[t.day] = true
	}
	fmt.Fprintf(&b, "material:\n  speed: %g\n  speed-uncertainty: 3\n  at-degrees: %g\n  per-degree: %g\n  source: invented\n", gelSpeed, gelDegrees, gelPerDegree)
	fmt.Fprintf(&b, "interval-months: 1\nbaseline: {from: %s, to: %s}\ntargets:\n", gelStart.Format(time.DateOnly), gelStart.AddDate(0, gelBaseline, -1).Format(time.DateOnly))
	for _, t := range gelTargets {
		fmt.Fprintf(&b, "  - {id: %s, title: \"%s\", direction: %s, distance: %g, uncertainty: 0.1, labels: [\"%s\"]}\n", t.id, t.title, t.direction, t.distanceMM, t.title)
	}
	return []byte(b.String())
}

// gelTruthCSV is what must be found: for every device and target the verdict of the
// newest test and whether its charts must signal; for the device that was never
// tested one row.
func gelTruthCSV() (content []byte, planted int, err error) {
	rows := [][]string{{"serial", "target", "verdict", "signal", "overdue", "what"}}
	yes := func(b bool) string { return map[bool]string{true: "yes", false: "no"}[b] }
	for _, g := range gelDevices {
		for _, t := range gelTargets {
			verdict := "pass"
			if slices.Contains(g.failing, t.id) {
				verdict = "fail"
			}
			rows = append(rows, []string{g.serial, t.id, verdict, yes(slices.Contains(g.signalled, t.id)), yes(g.overdue), g.what})
		}
	}
	rows = append(rows, []string{devices[neverTested].serial, "", "never-tested", "no", "", "a study of a patient and no test"})
	content, err = csvBytes(rows)
	return content, len(rows) - 1, err
}
