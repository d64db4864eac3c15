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
	if line, ok := FitLine(means, differences); ok {
		a.Proportional, a.HasProportional = line.Slope, true
	}
	return a, true
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
