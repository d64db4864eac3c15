package stats

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat"
)

// Peak flow of 17 subjects in l/min by two meters, two readings each: Bland and
// Altman 1986, Lancet i:307–310, table 1 (data read in copies, see
// shared/reference/check-values.md 4.1; printed results from memory there).
var (
	wright1 = []float64{494, 395, 516, 434, 476, 557, 413, 442, 650, 433, 417, 656, 267, 478, 178, 423, 427}
	wright2 = []float64{490, 397, 512, 401, 470, 611, 415, 431, 638, 429, 420, 633, 275, 492, 165, 372, 421}
	mini1   = []float64{512, 430, 520, 428, 500, 600, 364, 380, 658, 445, 432, 626, 260, 477, 259, 350, 451}
	mini2   = []float64{525, 415, 508, 444, 500, 625, 460, 390, 642, 432, 420, 605, 227, 467, 268, 370, 443}
)

func near(t *testing.T, name string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: %v, want %v ± %v", name, got, want, tolerance)
	}
}

func pairs(a, b []float64) (differences, means []float64) {
	for i := range a {
		differences = append(differences, a[i]-b[i])
		means = append(means, (a[i]+b[i])/2)
	}
	return differences, means
}

func TestBlandAltman1986(t *testing.T) {
	differences, means := pairs(wright1, mini1)
	a, ok := BlandAltman(differences, means)
	if !ok || a.N != 17 {
		t.Fatalf("%+v", a)
	}
	// As printed in the paper, one decimal.
	near(t, "bias", a.Bias.Value, -2.1, 0.05)
	near(t, "standard deviation", a.SD, 38.8, 0.05)
	near(t, "bias, low", a.Bias.Low, -22.0, 0.06)
	near(t, "bias, high", a.Bias.High, 17.8, 0.06)
	// The paper takes 2 s: −79.7 and 75.5 with intervals −114.3 to −45.1 and 40.9 to
	// 110.1, computed from rounded numbers. The width of an interval is the same.
	near(t, "2 s limit from ours", a.Bias.Value-2*a.SD, -79.7, 0.1)
	near(t, "width of an interval", a.Lower.High-a.Lower.Low, 114.3-45.1, 0.2)
	near(t, "width of an interval", a.Upper.High-a.Upper.Low, 110.1-40.9, 0.2)
	// With 1.96, recomputed with the Python standard library (check-values.md 4.1).
	near(t, "lower limit", a.Lower.Value, -78.0973, 5e-4)
	near(t, "upper limit", a.Upper.Value, 73.8620, 5e-4)
}

// NIST StRD univariate data NumAcc1 (seen in a copy of its file) and NumAcc4 (from memory:
// 1001 values about 10000000.2 in steps of 0.1): small differences of large numbers.
func TestNumAcc(t *testing.T) {
	mean, sd := meanSD([]float64{10000001, 10000003, 10000002})
	near(t, "NumAcc1 mean", mean, 10000002, 0)
	near(t, "NumAcc1 standard deviation", sd, 1, 0)
	values := []float64{10000000.2}
	for range 500 {
		values = append(values, 10000000.1, 10000000.3)
	}
	mean, sd = meanSD(values)
	near(t, "NumAcc4 mean", mean, 10000000.2, 2e-7) // 14 digits: the sum of 1001 doubles
	near(t, "NumAcc4 standard deviation", sd, 0.1, 1e-8)
}

// A general library as second opinion.
func TestAgainstLibrary(t *testing.T) {
	differences, means := pairs(wright1, mini1)
	a, _ := BlandAltman(differences, means)
	mean, sd := stat.MeanStdDev(differences, nil)
	near(t, "mean", a.Bias.Value, mean, 1e-12)
	near(t, "standard deviation", a.SD, sd, 1e-12)
	_, b := stat.LinearRegression(means, differences, nil, false)
	near(t, "slope", a.Proportional.Value, b, 1e-12)
	// t of the slope is r·√(ν/(1−r²)), so the interval follows from the correlation.
	r := stat.Correlation(means, differences, nil)
	half := math.Abs(b/r) * math.Sqrt((1-r*r)/15) * 2.131450 // t(15), tables
	near(t, "half interval of the slope", (a.Proportional.High-a.Proportional.Low)/2, half, 1e-6)
}

func TestProportional(t *testing.T) {
	// The second method reads 10 % more: difference −0.1·x over mean 1.05·x.
	differences, means := []float64{-1, -2, -3, -4.0000001}, []float64{10.5, 21, 31.5, 42}
	a, _ := BlandAltman(differences, means)
	near(t, "slope", a.Proportional.Value, -1/10.5, 1e-6)
	if a.Proportional.High >= 0 {
		t.Errorf("%+v: the interval holds 0", a.Proportional)
	}
	for _, means := range [][]float64{{5, 5, 5}, {0.1 + 0.2, 0.3, 0.3}} {
		if a, _ := BlandAltman([]float64{1, 2, 3}, means); a.HasProportional {
			t.Errorf("%v: a slope over means that do not vary: %+v", means, a)
		}
	}
	if a, ok := BlandAltman([]float64{1, 2}, []float64{1, 2}); !ok || a.HasProportional {
		t.Errorf("two differences have a bias and no slope: %+v", a)
	}
	if _, ok := BlandAltman([]float64{1}, []float64{1}); ok {
		t.Error("one difference says nothing")
	}
}

// Within-subject standard deviations 15.3 and 19.9 as printed (Bland and Altman
// 1996 and 1999); coefficients and CV recomputed (check-values.md 4.1,
// measurements.md 4.1).
func TestRepeats(t *testing.T) {
	for _, c := range []struct {
		name                       string
		first, second              []float64
		printed, within, coeff, cv float64
	}{
		{"Wright", wright1, wright2, 15.3, 15.3067, 42.428, 0.0350},
		{"mini", mini1, mini2, 19.9, 19.9108, 55.190, 0.0507},
	} {
		var groups [][]float64
		for i := range c.first {
			groups = append(groups, []float64{c.first[i], c.second[i]})
		}
		groups = append(groups, []float64{1000}) // not repeated: counts for nothing
		r, ok := Repeats(groups)
		if !ok || r.Groups != 17 || r.N != 34 || !r.HasCV {
			t.Fatalf("%s: %+v", c.name, r)
		}
		near(t, c.name+" printed", r.WithinSD.Value, c.printed, 0.05)
		near(t, c.name+" within", r.WithinSD.Value, c.within, 5e-4)
		near(t, c.name+" coefficient", r.Coefficient.Value, c.coeff, 5e-3)
		near(t, c.name+" CV", r.CV, c.cv, 5e-5)
		// χ²(17) at 0.975 and 0.025 is 30.191 and 7.564 (tables).
		near(t, c.name+" low", r.WithinSD.Low, r.WithinSD.Value*math.Sqrt(17/30.191), 1e-3)
		near(t, c.name+" high", r.WithinSD.High, r.WithinSD.Value*math.Sqrt(17/7.564), 1e-3)
	}
	if r, ok := Repeats([][]float64{{-1, 1}, {2, 3}}); !ok || r.HasCV {
		t.Errorf("a mean of 0 has no coefficient of variation: %+v", r)
	}
	if _, ok := Repeats([][]float64{{1}, nil}); ok {
		t.Error("nothing was repeated")
	}
}

// Shrout and Fleiss 1979, Psychol Bull 86:420–428, tables 2 to 4: six targets, four
// judges (data read in a copy, check-values.md 4.2). The intervals are those that a
// general statistics package prints for these data, from memory.
func TestShroutFleiss1979(t *testing.T) {
	m, ok := Squares([][]float64{{9, 2, 5, 8}, {6, 1, 3, 2}, {8, 4, 6, 8}, {7, 1, 2, 6}, {10, 5, 6, 9}, {6, 2, 4, 7}})
	if !ok {
		t.Fatal("refused")
	}
	near(t, "BMS", m.BMS, 11.24, 0.005)
	near(t, "WMS", m.WMS, 6.26, 0.005)
	near(t, "JMS", m.JMS, 32.49, 0.005)
	near(t, "EMS", m.EMS, 1.02, 0.005)
	two, _ := m.ICC21()
	three, _ := m.ICC31()
	near(t, "ICC(2,1)", two.Value, 0.29, 0.005)
	near(t, "ICC(3,1)", three.Value, 0.71, 0.005)
	near(t, "ICC(2,1) low", two.Low, 0.019, 0.0005)
	near(t, "ICC(2,1) high", two.High, 0.76, 0.005)
	near(t, "ICC(3,1) low", three.Low, 0.342, 0.0005)
	near(t, "ICC(3,1) high", three.High, 0.946, 0.0005)
}

// A constant difference between judges lowers absolute agreement alone.
func TestICCProperties(t *testing.T) {
	table := [][]float64{{1, 1.1}, {2, 2.2}, {3, 2.9}, {4, 4.1}, {5, 4.8}}
	base, _ := Squares(table)
	shifted := make([][]float64, len(table))
	scaled := make([][]float64, len(table))
	for i, row := range table {
		shifted[i] = []float64{row[0], row[1] + 2}
		scaled[i] = []float64{row[0] * 7, row[1] * 7}
	}
	moved, _ := Squares(shifted)
	larger, _ := Squares(scaled)
	b2, _ := base.ICC21()
	b3, _ := base.ICC31()
	m2, _ := moved.ICC21()
	m3, _ := moved.ICC31()
	l2, _ := larger.ICC21()
	if m2.Value >= b2.Value {
		t.Errorf("ICC(2,1) %v with a constant difference, %v without", m2.Value, b2.Value)
	}
	near(t, "ICC(3,1) with a constant difference", m3.Value, b3.Value, 1e-12)
	near(t, "ICC(2,1) in another unit", l2.Value, b2.Value, 1e-12)
	for _, refused := range [][][]float64{nil, {{1, 2}}, {{1}, {2}}, {{1, 2}, {1}}} {
		if _, ok := Squares(refused); ok {
			t.Errorf("%v is taken", refused)
		}
	}
	same, _ := Squares([][]float64{{1, 1}, {2, 2}, {3, 3}})
	if _, ok := same.ICC21(); ok {
		t.Error("judges that agree to the last digit leave no interval")
	}
}

// Equal differences have a value and no interval, also where they are equal but for the
// rounding of doubles; the least that is more than that has one.
func TestNoScatter(t *testing.T) {
	means := []float64{10, 12, 15}
	for _, differences := range [][]float64{{0, 0, 0}, {0.3, 0.1 + 0.2, 0.3}, {10.3 - 10, 12.3 - 12, 15.3 - 15}} {
		a, ok := BlandAltman(differences, means)
		if !ok || a.SD != 0 {
			t.Errorf("%v: %+v", differences, a)
		}
		for _, e := range []Estimate{a.Bias, a.Lower, a.Upper, a.Proportional} {
			if e.HasInterval() || e.Low != e.Value {
				t.Errorf("%v: %+v", differences, e)
			}
		}
	}
	if a, _ := BlandAltman([]float64{0, 0, 1e-6}, means); !a.Bias.HasInterval() || !a.Proportional.HasInterval() {
		t.Errorf("%+v", a)
	}
	r, ok := Repeats([][]float64{{0.3, 0.1 + 0.2}, {7, 7}})
	if !ok || r.WithinSD.HasInterval() || r.Coefficient.HasInterval() || r.WithinSD.Value != 0 {
		t.Errorf("%+v", r)
	}
	m, _ := Squares([][]float64{{0.3, 0.1 + 0.2}, {7, 7}, {9.1, 9.1}})
	if e, ok := m.ICC21(); ok {
		t.Errorf("%+v", e)
	}
	if e, ok := m.ICC31(); ok {
		t.Errorf("%+v", e)
	}
}
