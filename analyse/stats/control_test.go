package stats

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// Newcombe 1998, Stat Med 17:857–872, table I, method 3 (printed numbers from memory,
// recomputed in check-values.md 4.4 with the Python standard library).
func TestWilsonNewcombe1998(t *testing.T) {
	for _, c := range []struct {
		met, n    int
		low, high float64
	}{{81, 263, .2553, .3662}, {15, 148, .0624, .1605}, {0, 20, 0, .1611}, {1, 29, .0061, .1718}} {
		e, ok := Wilson(c.met, c.n, 1)
		if !ok {
			t.Fatal(c)
		}
		near(t, "share", e.Value, float64(c.met)/float64(c.n), 1e-15)
		near(t, "low", e.Low, c.low, 5.1e-5)
		near(t, "high", e.High, c.high, 5.1e-5)
	}
	for _, c := range [][2]int{{0, 0}, {-1, 3}, {4, 3}} {
		if _, ok := Wilson(c[0], c[1], 1); ok {
			t.Errorf("%v is taken", c)
		}
	}
	if none, _ := Wilson(0, 7, 1); none.Low != 0 {
		t.Error(none)
	}
	if all, _ := Wilson(29, 29, 1); all.High != 1 {
		t.Error(all)
	}
}

// By definition an end of the interval is the share from which the observed one lies
// 1.96 standard errors away; the library says how probable that is.
func TestWilsonAgainstLibrary(t *testing.T) {
	for n := 1; n < 200; n += 7 {
		for met := 1; met < n; met += 3 {
			e, _ := Wilson(met, n, 1)
			for _, p := range []float64{e.Low, e.High} {
				d := distuv.Normal{Mu: p, Sigma: math.Sqrt(p * (1 - p) / float64(n))}
				tail := min(d.CDF(e.Value), d.Survival(e.Value))
				near(t, "tail", tail, 0.025, 1e-10)
			}
		}
	}
}

// Newcombe 1998, Stat Med 17:873–890, table II, method 10 (check-values.md 4.4).
func TestDifferenceNewcombe1998(t *testing.T) {
	for _, c := range []struct {
		met, n, other, of int
		low, high         float64
	}{{56, 70, 48, 80, .0524, .3339}, {9, 10, 3, 10, .1705, .8090}} {
		a, _ := Wilson(c.met, c.n, 1)
		b, _ := Wilson(c.other, c.of, 1)
		e := Difference(a, b)
		near(t, "low", e.Low, c.low, 5.1e-5)
		near(t, "high", e.High, c.high, 5.1e-5)
		near(t, "turned round", Difference(b, a).Low, -e.High, 1e-15)
	}
}

// NIST/SEMATECH e-Handbook 6.3.3.2: 30 wafers of 50 chips (counts and printed limits
// in check-values.md 4.3).
func TestShareChartNIST(t *testing.T) {
	counts := []int{12, 15, 8, 10, 4, 7, 16, 9, 14, 10, 5, 6, 17, 12, 22, 8, 10, 5, 13, 11, 20, 18, 24, 15, 9, 12, 7, 13, 9, 6}
	var wafers []Count
	for _, c := range counts {
		wafers = append(wafers, Count{Met: c, Of: 50, Baseline: true})
	}
	p, ok := Share(wafers)
	if !ok {
		t.Fatal("refused")
	}
	l, _ := ShareLimits(p, 50, 1)
	near(t, "centre", l.Centre, .2313, 5e-5)
	near(t, "lower", l.Lower, .0524, 5e-5)
	near(t, "upper", l.Upper, .4102, 5e-5)
	var beyond []int
	for i, c := range counts {
		if ShareSignal(l, c, 50) {
			beyond = append(beyond, i+1)
		}
	}
	if !slices.Equal(beyond, []int{15, 23}) {
		t.Errorf("beyond the limits: %v", beyond)
	}
	wafers[14].Baseline, wafers[22].Baseline = false, false
	without, _ := Share(wafers)
	l, _ = ShareLimits(without, 50, 1)
	near(t, "centre without both", l.Centre, .2150, 5e-5)
	near(t, "lower without both", l.Lower, .04070, 5e-6)
	near(t, "upper without both", l.Upper, .38930, 5e-6)
	wider, _ := ShareLimits(without, 5, 1)
	if wider.Lower != 0 || wider.Upper <= l.Upper {
		t.Errorf("%+v does not follow its denominator", wider)
	}
	if most, _ := ShareLimits(.9, 4, 1); most.Upper != 1 {
		t.Errorf("%+v: more than all", most)
	}
	if _, ok := ShareLimits(.5, 0, 1); ok {
		t.Error("limits of nothing")
	}
	if _, ok := Share(nil); ok {
		t.Error("a share of nothing")
	}
}

// Where few are expected the binomial distribution decides: its tails by summing.
func TestShareSignalOfFew(t *testing.T) {
	for _, c := range []struct {
		p      float64
		met, n int
		want   bool
	}{
		{.9, 2, 5, false}, // below the limit 0.498; P(≤ 2) = 0.00856
		{.9, 1, 5, true},  // P(≤ 1) = 0.00046
		{.9, 5, 5, false}, // the upper limit is 1
		{.02, 2, 10, false},
		{.02, 3, 10, true}, // P(≥ 3) = 0.00086
	} {
		l, _ := ShareLimits(c.p, c.n, 1)
		if got := ShareSignal(l, c.met, c.n); got != c.want {
			t.Errorf("%+v: %v", c, got)
		}
	}
}

// Counts that come in groups of ten scatter √10 times as wide as single ones.
func TestShareSpread(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	draw := func(group int) (counts []Count) {
		for range 2000 {
			c := Count{Of: 200, Baseline: true}
			for range 200 / group {
				if rng.Float64() < .7 {
					c.Met += group
				}
			}
			counts = append(counts, c)
		}
		return counts
	}
	for _, group := range []int{1, 10} {
		counts := draw(group)
		p, _ := Share(counts)
		factor, ok := ShareSpread(p, counts)
		if !ok {
			t.Fatal(group)
		}
		near(t, "factor", factor, math.Sqrt(float64(group)), 0.04*math.Sqrt(float64(group)))
	}
	if f, ok := ShareSpread(.5, []Count{{Met: 1, Of: 2, Baseline: true}, {}, {Met: 2, Of: 2, Baseline: true}}); ok || f != 1 {
		t.Errorf("a moving range over a week without studies: %v", f)
	}
}

func individuals(values ...float64) []Individual {
	var series []Individual
	for _, v := range values {
		series = append(series, Individual{Value: v, Baseline: true})
	}
	return series
}

func TestIndividuals(t *testing.T) {
	// NIST/SEMATECH e-Handbook 6.3.2.2: flowrate of ten batches.
	nist := individuals(49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1)
	x, mr, ok := Individuals(nist)
	if !ok {
		t.Fatal("refused")
	}
	near(t, "centre", x.Centre, 50.81, 5e-5)
	near(t, "lower", x.Lower, 45.8159, 5e-5)
	near(t, "upper", x.Upper, 55.8041, 5e-5)
	near(t, "mean moving range", mr.Centre, 1.8778, 5e-5)
	near(t, "upper moving range", mr.Upper, 6.1347, 5e-5)
	// Montgomery and Runger, Applied Statistics and Probability for Engineers,
	// example 16-2, as in measurements.md C5 (two decimals).
	book := individuals(102.0, 94.8, 98.3, 98.4, 102.0, 98.5, 99.0, 97.7, 100.0, 98.1, 101.3, 98.7, 101.1, 98.4, 97.0, 96.7, 100.3, 101.4, 97.2, 101.0)
	x, mr, _ = Individuals(book)
	near(t, "centre", x.Centre, 99.1, 0.006)
	near(t, "lower", x.Lower, 92.21, 0.005)
	near(t, "upper", x.Upper, 105.99, 0.01)
	near(t, "mean moving range", mr.Centre, 2.59, 0.005)
	near(t, "upper moving range", mr.Upper, 8.46, 0.005)
	if signals := slices.Concat(WesternElectric(book, x)...); len(signals) > 0 {
		t.Errorf("the book finds the process in control: %v", signals)
	}
	var values []float64
	for _, i := range book {
		values = append(values, i.Value)
	}
	near(t, "centre by the library", x.Centre, stat.Mean(values, nil), 1e-12)
}

// Limits come from the baseline alone, and no moving range spans a gap.
func TestIndividualsBaseline(t *testing.T) {
	series := append(individuals(10, 12, 11, 13), Individual{Value: 30}, Individual{Value: 31})
	with, ranges, _ := Individuals(series)
	near(t, "centre", with.Centre, 11.5, 1e-12)
	near(t, "mean moving range", ranges.Centre, 5./3, 1e-12)
	series[2].Gap = true
	_, ranges, _ = Individuals(series)
	near(t, "mean moving range with a gap", ranges.Centre, 2, 1e-12)
	if _, ok := MovingRange(series, 2); ok {
		t.Error("a moving range over a gap")
	}
	if r, ok := MovingRange(series, 4); !ok || r != 17 {
		t.Error("no moving range off the baseline")
	}
	for _, refused := range [][]Individual{nil, individuals(1), individuals(2, 2, 2), {{Value: 1, Baseline: true}, {Value: 2}}} {
		if _, _, ok := Individuals(refused); ok {
			t.Errorf("%v has limits", refused)
		}
	}
}

// The zone rules by their published definitions (Western Electric 1956; list seen in
// measurements.md 4.4): σ is 1, the centre 0; want names, point by point from 1, the
// rules that end there.
func TestWesternElectric(t *testing.T) {
	limits := Limits{0, -3, 3}
	for _, c := range []struct {
		name   string
		values []float64
		want   map[int][]string
	}{
		{"on the limit is inside", []float64{3, -3}, nil},
		{"beyond either limit", []float64{0, 3.1, 0, -3.1}, map[int][]string{2: {"beyond-limits"}, 4: {"beyond-limits"}}},
		{"two of three", []float64{2.1, 0, 2.2}, map[int][]string{3: {"two-of-three"}}},
		{"the third does not take part", []float64{2.1, 2.1, 0}, map[int][]string{2: {"two-of-three"}}},
		{"two of four", []float64{2.1, 0, 0, 2.1}, nil},
		{"two sides", []float64{2.1, -2.1, 0}, nil},
		{"four of five", []float64{-1.1, -1.2, 0, -1.3, -1.1}, map[int][]string{5: {"four-of-five"}}},
		{"four of six", []float64{1.1, 1.1, 0, 0, 1.1, 1.1}, nil},
		{"eight in a row", []float64{.1, .2, .1, .2, .1, .2, .1, .2, .1}, map[int][]string{8: {"eight-in-a-row"}, 9: {"eight-in-a-row"}}},
		{"seven in a row", []float64{.1, .2, .1, .2, .1, .2, .1, -.2, .1}, nil},
		{"the centre is on no side", []float64{.1, .2, .1, .2, 0, .2, .1, .2, .1}, nil},
	} {
		got := WesternElectric(individuals(c.values...), limits)
		for i, rules := range got {
			var ids []string
			for _, r := range rules {
				ids = append(ids, r.ID)
			}
			if !slices.Equal(ids, c.want[i+1]) {
				t.Errorf("%s: point %d: %v, want %v", c.name, i+1, ids, c.want[i+1])
			}
		}
	}
	broken := individuals(.1, .1, .1, .1, .1, .1, .1, .1)
	broken[4].Gap = true
	if signals := slices.Concat(WesternElectric(broken, limits)...); len(signals) > 0 {
		t.Errorf("a run over a gap: %v", signals)
	}
}

// Champ and Woodall 1987, Technometrics 29:393–399: a steady normal process gives a
// false alarm every 91.75 points under all four rules, every 370.4 under the first
// (from memory; the first follows from the normal distribution).
func TestFalseAlarms(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and hardly anything in it at once")
	}
	rng := rand.New(rand.NewPCG(1, 2))
	const runs = 4000
	all, first := 0, 0
	for range runs {
		a, f := untilAlarm(rng)
		all, first = all+a, first+f
	}
	// The standard error of a mean run length is about the length over √runs: three
	// of them are 4.4 and 17.6.
	near(t, "all rules", float64(all)/runs, 91.75, 4.4)
	near(t, "first rule", float64(first)/runs, 370.4, 17.6)
}

func untilAlarm(rng *rand.Rand) (all, first int) {
	var series []Individual
	for n := 1; first == 0; n++ {
		series = append(series, Individual{Value: rng.NormFloat64()})
		series = series[max(0, len(series)-8):]
		signals := WesternElectric(series, Limits{0, -3, 3})
		now := signals[len(signals)-1]
		if all == 0 && len(now) > 0 {
			all = n
		}
		if slices.Contains(now, BeyondLimits) {
			first = n
		}
	}
	return all, first
}

// Limits of Anhøj's rules as in measurements.md 4.4; the quantile by the library.
func TestRunsLimits(t *testing.T) {
	for _, c := range [][3]int{{10, 6, 2}, {12, 7, 3}, {16, 7, 4}, {20, 7, 6}, {24, 8, 8}, {30, 8, 10}, {40, 8, 14}} {
		values := make([]float64, c[0])
		for i := range values {
			values[i] = float64(i)
		}
		r, ok := RunsOf(values)
		if !ok || r.LongestLimit != c[1] || r.CrossingsLimit != c[2] || r.Useful != c[0] || r.Crossings != 1 {
			t.Errorf("%v: %+v", c, r)
		}
	}
	for n := 9; n < 3000; n += 17 {
		k, b := fewest(n), distuv.Binomial{N: float64(n), P: 0.5}
		if b.CDF(float64(k)) < 0.05 || b.CDF(float64(k-1)) >= 0.05 {
			t.Errorf("n = %d: %d is not the 5 %% quantile", n, k)
		}
	}
}

func TestRunsSignals(t *testing.T) {
	// A run of seven is within chance (the rule is longer than 7), one of eight is not
	// (trap in measurements.md 4.4). 5 is the median and counts for nothing.
	seven := []float64{4, 4, 4, 6, 7, 6, 5, 6, 7, 6, 7, 4, 4, 4, 4}
	r, ok := RunsOf(seven)
	if !ok || r.Useful != 14 || r.Longest != 7 || r.LongestEnd != 10 || r.LongestLimit != 7 || slices.Contains(r.Signals(10), LongRun) {
		t.Errorf("%+v", r)
	}
	eight := []float64{4, 4, 4, 4, 6, 6, 6, 6, 5, 6, 6, 6, 6, 4, 4, 4, 4}
	r, _ = RunsOf(eight)
	if r.Longest != 8 || r.LongestEnd != 12 || !slices.Contains(r.Signals(12), LongRun) || slices.Contains(r.Signals(11), LongRun) {
		t.Errorf("%+v", r)
	}
	// Two crossings of sixteen points, of which chance gives at least four.
	if r.Crossings != 2 || r.CrossingsLimit != 4 || !slices.Contains(r.Signals(16), FewCrossings) {
		t.Errorf("%+v", r)
	}
	for _, few := range [][]float64{nil, {1, 2, 3}, slices.Repeat([]float64{1}, 20)} {
		if _, ok := RunsOf(few); ok {
			t.Errorf("%v is judged", few)
		}
	}
}

// TestRunsLopsided: a series that lies on its median for the most part, and else on one
// side of it, is not judged by runs, however often chance would seem to break them.
func TestRunsLopsided(t *testing.T) {
	var values []float64
	for i := range 52 {
		values = append(values, 1-float64(i%4/3)/10) // every fourth 0.9, the others 1
	}
	if r, ok := RunsOf(values); ok {
		t.Errorf("judged: %+v", r)
	}
	// 14 above and 7 below the median are a third on the lesser side, 15 and 6 are less.
	for below, want := range map[int]bool{7: true, 6: false} {
		values = nil
		for i := range 21 {
			v := 2.0
			if i < below {
				v = 0
			}
			values = append(values, v, 1, 1)
		}
		if _, ok := RunsOf(values); ok != want {
			t.Errorf("%d of 21 below: judged %v", below, ok)
		}
	}
}
