package stats

import "math"

// Agreement is what a series of differences between two methods says.
type Agreement struct {
	N     int
	Bias  Estimate
	SD    float64
	Lower Estimate
	Upper Estimate
	// Proportional is the slope of the difference over the mean of both, N ≥ 3 and
	// means that are not all the same; HasProportional tells that it is there.
	Proportional    Estimate
	HasProportional bool
}

// BlandAltman takes differences and, pair by pair, the means of both methods, at
// least two of each; ok is false for fewer. With the mean d and the standard
// deviation s of n differences
//
//	bias    d        ± t(n−1)·s/√n
//	limits  d ± z·s  ± t(n−1)·√(3s²/n)
//	slope   b        ± t(n−2)·SE(b), least squares of the difference over the mean
//
// Bland and Altman 1986, Lancet i:307–310; they take 2 for z = 1.96. Slope: Bland
// and Altman 1999, Stat Methods Med Res 8:135 (from memory). Where all differences are
// equal no estimate has an interval.
func BlandAltman(differences, means []float64) (a Agreement, ok bool) {
	n := float64(len(differences))
	if len(differences) < 2 || len(means) != len(differences) {
		return Agreement{}, false
	}
	bias, sd := meanSD(differences)
	sd = scatter(sd, largest(differences, means))
	a = Agreement{N: len(differences), SD: sd, Bias: around(bias, t(n-1)*sd/math.Sqrt(n))}
	half := t(n-1) * math.Sqrt(3*sd*sd/n)
	a.Lower, a.Upper = around(bias-z*sd, half), around(bias+z*sd, half)
	a.Proportional, a.HasProportional = slope(means, differences)
	return a, true
}

// slope is the least-squares slope of y over x; false where x does not vary or
// fewer than three points leave nothing to judge it by.
func slope(x, y []float64) (Estimate, bool) {
	if len(x) < 3 {
		return Estimate{}, false
	}
	mx, _ := meanSD(x)
	my, _ := meanSD(y)
	var sxx, sxy float64
	for i := range x {
		sxx += (x[i] - mx) * (x[i] - mx)
		sxy += (x[i] - mx) * (y[i] - my)
	}
	// Means that differ in the last bits only do not vary.
	if sxx <= 1e-24*mx*mx*float64(len(x)) {
		return Estimate{}, false
	}
	b, residual := sxy/sxx, 0.0
	for i := range x {
		e := y[i] - my - b*(x[i]-mx)
		residual += e * e
	}
	degrees := float64(len(x) - 2)
	left := scatter(math.Sqrt(residual/degrees), largest(x, y))
	return around(b, t(degrees)*left/math.Sqrt(sxx)), true
}

// meanSD is the mean and the standard deviation by n − 1; two passes, which keep
// digits where values are large and close.
func meanSD(x []float64) (mean, sd float64) {
	for _, v := range x {
		mean += v
	}
	mean /= float64(len(x))
	squares := 0.0
	for _, v := range x {
		squares += (v - mean) * (v - mean)
	}
	return mean, math.Sqrt(squares / float64(len(x)-1))
}
