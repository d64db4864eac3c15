package demo

import (
	"context"
	"encoding/csv"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"leadline/analyse"
	"leadline/analyse/calib"
	"leadline/analyse/stats"
	"leadline/ingest"
	"leadline/ingest/protocol"
)

// testObjectSeeds is how many archives are drawn and judged.
const testObjectSeeds = 20

// judged writes scans of the test object and judges them by its file, with text
// changed by edit.
func judged(t *testing.T, seed int64, edit func(string) string) (o *analyse.TestObject, dir string) {
	t.Helper()
	dir = t.TempDir()
	if _, err := WriteTestObject(context.Background(), dir, Options{Seed: seed, Blank: seed > 0}); err != nil {
		t.Fatal(err)
	}
	archive, err := ingest.Load(context.Background(), []string{dir}, ingest.Options{})
	if err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(filepath.Join(dir, gelFile))
	if err != nil {
		t.Fatal(err)
	}
	object, err := protocol.ParseTestObject("test-object.yaml", []byte(edit(string(text))))
	if err != nil {
		t.Fatal(err)
	}
	c, err := calib.Run(context.Background(), archive, calib.Options{TestObject: object})
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range c.Findings {
		if f.ID != "zone-missing" { // these devices write none
			t.Errorf("seed %d: the headers are sound, and there is a finding: %+v", seed, f)
		}
	}
	return c.TestObject, dir
}

// truthRows are those of truth.csv without its header.
func truthRows(t *testing.T, dir string) [][]string {
	t.Helper()
	f, err := os.Open(filepath.Join(dir, gelTruth))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil || len(rows) != 26 {
		t.Fatalf("%d rows of truth: %v", len(rows), err)
	}
	return rows[1:]
}

func asWritten(text string) string { return text }

// TestTestObject judges 20 drawn archives: every planted fault is found and none is
// invented. Signals of charts of steady devices are chance; they are counted and held
// against how often chance gives them, with limits made from as few tests.
func TestTestObject(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and hardly anything in it at once")
	}
	verdicts, found, steady := 0, 0, alarms{}
	for seed := range int64(testObjectSeeds) {
		o, dir := judged(t, seed, asWritten)
		if o.Unassigned != 0 || o.Scans != 140 {
			t.Fatalf("seed %d: %d scans, %d lengths of no target", seed, o.Scans, o.Unassigned)
		}
		for _, row := range truthRows(t, dir) {
			serial, target, verdict, signal, overdue := row[0], row[1], row[2], row[3], row[4]
			got := latestOf(t, o, serial, target)
			verdicts++
			if string(got.Verdict) != verdict || got.Overdue.Value != (overdue == "yes") {
				t.Errorf("seed %d, %s %s: %s (%+.2f ± %.2f mm), overdue %v; planted %v", seed, serial, target, got.Verdict, got.Error.Value, got.U.Value, got.Overdue.Value, row)
			}
			charts := chartsOf(o, serial, target)
			switch signals := count(charts); {
			case signal == "yes" && signals[0]+signals[1] == 0:
				t.Errorf("seed %d, %s %s: drifts, and no chart signals", seed, serial, target)
			case signal == "yes":
				found++
			case !strings.Contains(row[5], "grow by"):
				steady.add(signals, len(charts))
			}
		}
	}
	t.Logf("verdicts: %d held against the truth; drifts: %d of %d found", verdicts, found, 3*testObjectSeeds)
	steady.hold(t)
}

// TestWrongSpeedOfSound: with the wrong speed of sound in the file, sound devices fail
// along the beam over the long distance, and nowhere else.
func TestWrongSpeedOfSound(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and hardly anything in it at once")
	}
	o, _ := judged(t, 1, func(text string) string { return strings.Replace(text, "speed: 1500", "speed: 1540", 1) })
	for _, serial := range []string{"OV2-00611", "OV4-01201", "OPL-0201"} {
		for target, want := range map[string]analyse.TestVerdict{"column-80": analyse.TestFail, "column-20": analyse.TestPass, "row-40": analyse.TestPass} {
			if got := latestOf(t, o, serial, target); got.Verdict != want {
				t.Errorf("%s %s: %s, %+.2f ± %.2f mm", serial, target, got.Verdict, got.Error.Value, got.U.Value)
			}
		}
	}
}

func latestOf(t *testing.T, o *analyse.TestObject, serial, target string) analyse.TargetResult {
	t.Helper()
	for _, r := range o.Targets {
		if r.Device.Serial == serial && r.Target == target && r.Scope == analyse.ScopeLatest {
			return r
		}
	}
	t.Fatalf("no row of %s %s", serial, target)
	return analyse.TargetResult{}
}

func chartsOf(o *analyse.TestObject, serial, target string) []analyse.Chart {
	return slices.DeleteFunc(slices.Clone(o.Charts), func(c analyse.Chart) bool { return c.Device.Serial != serial || c.Subject != target })
}

// count counts the signals behind the baseline: of the errors, and of their EWMA.
func count(charts []analyse.Chart) (n [2]int) {
	for _, c := range charts {
		for _, p := range c.Points {
			if !p.Baseline && len(p.Signals) > 0 {
				n[slices.Index([]analyse.ChartKind{analyse.ChartIndividuals, analyse.ChartEWMA}, c.Kind)]++
			}
		}
	}
	return n
}

// alarms counts the signals of steady series.
type alarms struct {
	series  int
	signals [2]int
}

func (a *alarms) add(signals [2]int, charts int) {
	if charts == 0 {
		return // the device that was never tested
	}
	a.series++
	for i := range signals {
		a.signals[i] += signals[i]
	}
}

// hold wants no more and no fewer signals than chance gives: drawn from the normal
// distribution, eight values of baseline and ten behind it (some devices have six).
func (a *alarms) hold(t *testing.T) {
	t.Helper()
	const draws = 20000
	rng := rand.New(rand.NewPCG(1, 2))
	for kind, name := range []string{"individuals", "EWMA"} {
		sum, squares := 0.0, 0.0
		for range draws {
			n := float64(chance(rng)[kind])
			sum, squares = sum+n, squares+n*n
		}
		mean := sum / draws
		expected, sd := float64(a.series)*mean, math.Sqrt(float64(a.series)*(squares/draws-mean*mean))
		t.Logf("%s: %d false signals in %d steady series, %.0f ± %.0f expected by chance", name, a.signals[kind], a.series, expected, sd)
		if off := math.Abs(float64(a.signals[kind]) - expected); off > 4*sd {
			t.Errorf("%s: %d false signals, %.1f ± %.1f expected", name, a.signals[kind], expected, sd)
		}
	}
	if a.series < 300 {
		t.Errorf("%d steady series only", a.series)
	}
}

// chance counts the signals of one steady series behind its baseline.
func chance(rng *rand.Rand) (n [2]int) {
	var series []stats.Individual
	var values []float64
	for i := range 18 {
		v := rng.NormFloat64()
		series, values = append(series, stats.Individual{Value: v, Baseline: i < 8}), append(values, v)
	}
	limits, _, _ := stats.Individuals(series)
	ewma := stats.EWMALimits(limits.Centre, (limits.Upper-limits.Centre)/3, 0.3, 3)
	for i, z := range stats.EWMA(values, limits.Centre, 0.3) {
		if i >= 8 && limits.Beyond(values[i]) {
			n[0]++
		}
		if i >= 8 && ewma.Beyond(z) {
			n[1]++
		}
	}
	return n
}
