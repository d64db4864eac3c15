package stats

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat"
)

// TestModifiedZ: the examples of the shared references: Iglewicz and Hoaglin's with
// its two outliers that hide each other from an ordinary z (check-values.md 4.5), and
// measurements.md 4.9.
func TestModifiedZ(t *testing.T) {
	data := []float64{2.1, 2.6, 2.4, 2.5, 2.3, 2.1, 2.3, 2.6, 8.2, 8.3}
	c := CentreOf(data)
	near(t, "median", c.Median, 2.45, 1e-12)
	near(t, "MAD", c.MAD, 0.15, 1e-12)
	for i, want := range []float64{-1.57, 0.67, -0.22, 0.22, -0.67, -1.57, -0.67, 0.67, 25.86, 26.31} {
		z := c.ModifiedZ(data[i])
		near(t, "modified z", z, want, 0.005)
		if flagged := math.Abs(z) > OutlierZ; flagged != (i >= 8) {
			t.Errorf("value %v flagged: %t", data[i], flagged)
		}
	}
	m, sd := stat.MeanStdDev(data, nil)
	near(t, "ordinary z of 8.2", (8.2-m)/sd, 1.87, 0.005)
	near(t, "ordinary z of 8.3", (8.3-m)/sd, 1.91, 0.005)

	c = CentreOf([]float64{2.1, 2.0, 2.2, 2.1, 2.0, 2.3, 3.4})
	near(t, "median", c.Median, 2.1, 1e-12)
	near(t, "MAD", c.MAD, 0.1, 1e-12)
	near(t, "z of 3.4", c.ModifiedZ(3.4), 8.77, 0.005)
}

// TestModifiedZWithoutSpread: where the MAD is 0 the mean absolute deviation stands in
// (the same references), and values that are all equal have no outlier.
func TestModifiedZWithoutSpread(t *testing.T) {
	c := CentreOf([]float64{5, 5, 5, 5, 5, 5, 5, 6})
	near(t, "MAD", c.MAD, 0, 0)
	// MeanAD = 1/8, so z = 1/(1.253314/8).
	near(t, "z of 6", c.ModifiedZ(6), 8/1.253314, 1e-9)
	near(t, "z of 5", c.ModifiedZ(5), 0, 0)
	if z := CentreOf([]float64{0.3, 0.3, 0.3}).ModifiedZ(0.3); z != 0 {
		t.Errorf("z %v of equal values", z)
	}
}

// Norris is a data set of NIST's Statistical Reference Datasets, linear regression,
// lower level of difficulty (NIST; ozone monitors). Data and certified values are from
// memory; a wrong figure among the data would not give the certified digits.
var norris = [][2]float64{ // y, x
	{0.1, 0.2}, {338.8, 337.4}, {118.1, 118.2}, {888.0, 884.6}, {9.2, 10.1}, {228.1, 226.5}, {668.5, 666.3}, {998.5, 996.3},
	{449.1, 448.6}, {778.9, 777.0}, {559.2, 558.2}, {0.3, 0.4}, {0.1, 0.6}, {778.1, 775.5}, {668.8, 666.9}, {339.3, 338.0},
	{448.9, 447.5}, {10.8, 11.6}, {557.7, 556.0}, {228.3, 228.1}, {998.0, 995.8}, {888.8, 887.6}, {119.6, 120.2}, {0.3, 0.3},
	{0.6, 0.3}, {557.6, 556.8}, {339.3, 339.1}, {888.0, 887.2}, {998.5, 999.0}, {778.9, 779.0}, {10.2, 11.1}, {117.6, 118.3},
	{228.9, 229.2}, {668.4, 669.1}, {449.2, 448.9}, {0.2, 0.5},
}

func TestFitLineNorris(t *testing.T) {
	var x, y []float64
	for _, p := range norris {
		y, x = append(y, p[0]), append(x, p[1])
	}
	l, ok := FitLine(x, y)
	if !ok || l.N != 36 {
		t.Fatalf("%+v", l)
	}
	near(t, "intercept", l.Intercept.Value, -0.262323073774029, 1e-11)
	near(t, "slope", l.Slope.Value, 1.00211681802045, 1e-13)
	near(t, "standard error of the intercept", l.InterceptSE, 0.232818234301152, 1e-11)
	near(t, "standard error of the slope", l.SlopeSE, 0.429796848199937e-03, 1e-14)
	near(t, "residual standard deviation", l.ResidualSD, 0.884796396144373, 1e-11)
	// A general library as second opinion.
	alpha, beta := stat.LinearRegression(x, y, nil, false)
	near(t, "intercept of the library", l.Intercept.Value, alpha, 1e-11)
	near(t, "slope of the library", l.Slope.Value, beta, 1e-13)
}

// TestMedianSlope: slopes that are counted by hand: (1,1) (2,2) (3,3) (4,40) has
// 1 1 1 13 19 37, so 7.
func TestMedianSlope(t *testing.T) {
	got, ok := MedianSlope([]float64{1, 2, 3, 4}, []float64{1, 2, 3, 40})
	if !ok {
		t.Fatal("no slope")
	}
	near(t, "by hand", got, 7, 1e-12)
	got, _ = MedianSlope([]float64{1, 2, 3, 4, 5, 6, 7}, []float64{2, 4, 6, 99, 10, 12, 14})
	near(t, "one strange point of seven", got, 2, 1e-12)
	if _, ok := MedianSlope([]float64{3, 3}, []float64{1, 2}); ok {
		t.Error("a slope where x does not vary")
	}
}

// TestNoLine: too few points, and points above each other, have no line.
func TestNoLine(t *testing.T) {
	for _, x := range [][]float64{nil, {1, 2}, {5, 5, 5, 5}} {
		if _, ok := FitLine(x, make([]float64, len(x))); ok {
			t.Errorf("a line through %v", x)
		}
	}
}

// nile is the annual flow of the Nile at Aswan from 1871 to 1970 in 10⁸ m³, the
// example of a change point that is printed most (Cobb 1978, Biometrika 65:243; data
// from memory, their mean 919.35 is printed): the flow fell after 1898.
var nile = []float64{
	1120, 1160, 963, 1210, 1160, 1160, 813, 1230, 1370, 1140, 995, 935, 1110, 994, 1020, 960, 1180, 799, 958, 1140,
	1100, 1210, 1150, 1250, 1260, 1220, 1030, 1100, 774, 840, 874, 694, 940, 833, 701, 916, 692, 1020, 1050, 969,
	831, 726, 456, 824, 702, 1120, 1100, 832, 764, 821, 768, 845, 864, 862, 698, 845, 744, 796, 1040, 759,
	781, 865, 845, 944, 984, 897, 822, 1010, 771, 676, 649, 846, 812, 742, 801, 1040, 860, 874, 848, 890,
	744, 749, 838, 1050, 918, 986, 797, 923, 975, 815, 1020, 906, 901, 1170, 912, 746, 919, 718, 714, 740,
}

func TestFindStepNile(t *testing.T) {
	near(t, "mean", stat.Mean(nile, nil), 919.35, 1e-9)
	var series []Observation
	for i, v := range nile {
		series = append(series, Observation{At: float64(1871 + i), Value: v})
	}
	step, ok := FindStep(series, 5)
	if !ok || series[step.At].At != 1899 {
		t.Fatalf("%+v", step)
	}
	near(t, "shift", step.Shift, stat.Mean(nile[28:], nil)-stat.Mean(nile[:28], nil), 1e-9)
	if !(step.P < 1e-9) {
		t.Errorf("p %v", step.P)
	}
}

// blocked draws a series of three blocks at different levels.
func blocked(rng *rand.Rand, n int, sd float64, of func(at float64) float64) []Observation {
	var series []Observation
	for i := range n {
		b := rng.IntN(3)
		series = append(series, Observation{Block: b, At: float64(i), Value: 10*float64(b) + sd*rng.NormFloat64() + of(float64(i))})
	}
	return series
}

// TestAgainstLeastSquares solves the same models with a general library: one column
// for each block, one for the step or the time.
func TestAgainstLeastSquares(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range 20 {
		series := blocked(rng, 60, 1, func(at float64) float64 { return 0.02 * at })
		step, _ := FindStep(series, 5)
		trend, _ := FindTrend(series)
		shift, rss := solve(t, series, func(i int, _ float64) float64 {
			if i >= step.At {
				return 1
			}
			return 0
		})
		near(t, "shift", step.Shift, shift, 1e-9)
		near(t, "residual of the step", step.Residual, rss, 1e-9)
		slope, rss := solve(t, series, func(_ int, at float64) float64 { return at })
		near(t, "slope", trend.Slope, slope, 1e-9)
		near(t, "residual of the trend", trend.Residual, rss, 1e-9)
	}
}

func solve(t *testing.T, series []Observation, column func(i int, at float64) float64) (coefficient, rss float64) {
	t.Helper()
	x, y := mat.NewDense(len(series), 4, nil), mat.NewVecDense(len(series), nil)
	for i, o := range series {
		x.Set(i, o.Block, 1)
		x.Set(i, 3, column(i, o.At))
		y.SetVec(i, o.Value)
	}
	var c, fitted mat.VecDense
	if err := c.SolveVec(x, y); err != nil {
		t.Fatal(err)
	}
	fitted.MulVec(x, &c)
	for i := range series {
		rss += math.Pow(y.AtVec(i)-fitted.AtVec(i), 2)
	}
	return c.AtVec(3), rss
}

// TestFalseChanges: of series without a step or trend no more than the share that P
// says is called one. 2000 of them at 5 %: 100 are expected of an exact P, and four
// standard deviations more are allowed; Bonferroni gives fewer.
func TestFalseChanges(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	steps, trends := 0, 0
	const runs, most = 2000, 100 + 39
	for range runs {
		series := blocked(rng, 40, 1, func(float64) float64 { return 0 })
		if s, ok := FindStep(series, 5); ok && s.P < 0.05 {
			steps++
		}
		if s, ok := FindTrend(series); ok && s.P < 0.05 {
			trends++
		}
	}
	if steps > most || trends > most || trends < 100-39 {
		t.Errorf("%d steps and %d trends in %d series without any", steps, trends, runs)
	}
}

// TestPlantedStep finds a step where it is, and leaves nothing where nothing else is.
func TestPlantedStep(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	series := blocked(rng, 60, 0, func(at float64) float64 { return map[bool]float64{true: 0.03}[at >= 37] })
	step, ok := FindStep(series, 5)
	if !ok || step.At != 37 || step.P != 0 {
		t.Errorf("%+v", step)
	}
	near(t, "shift", step.Shift, 0.03, 1e-12)
	if _, ok := FindStep(blocked(rng, 60, 0, func(float64) float64 { return 0 }), 5); ok {
		t.Error("a step where all values of a block are equal")
	}
	if _, ok := FindStep(series[:6], 5); ok {
		t.Error("a step without room on both sides")
	}
}
