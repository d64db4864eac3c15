package stats

import "math"

// Component is one independent part of an uncertainty: a standard uncertainty with
// its degrees of freedom, infinite for what is not judged from a spread of values.
type Component struct{ U, Degrees float64 }

// Expanded puts independent components together (JCGM 100:2008 5.1.2 and G.4):
//
//	u² = Σ uᵢ²    ν = u⁴ / Σ (uᵢ⁴/νᵢ)    U = t(ν)·u
//
// with t the 97.5 % quantile of Student's distribution, for 95 % coverage. ν is cut
// to a whole number as G.4.1 has it; it is never less than 1. All are 0 without
// components above 0.
func Expanded(parts ...Component) (u, degrees, expanded float64) {
	squares, fourths := 0.0, 0.0
	for _, p := range parts {
		squares += p.U * p.U
		fourths += math.Pow(p.U, 4) / p.Degrees
	}
	if squares == 0 {
		return 0, 0, 0
	}
	u, degrees = math.Sqrt(squares), math.Inf(1)
	if fourths > 0 {
		degrees = max(1, math.Floor(squares*squares/fourths))
	}
	quantile := score
	if !math.IsInf(degrees, 1) {
		quantile = t(degrees)
	}
	return u, degrees, quantile * u
}

// Mean is the mean of values with its interval mean ± t(n−1)·s/√n, and their
// standard deviation s by n − 1; ok is false for fewer than two.
func Mean(values []float64) (e Estimate, sd float64, ok bool) {
	if len(values) < 2 {
		return Estimate{}, 0, false
	}
	n := float64(len(values))
	mean, sd := meanSD(values)
	return around(mean, t(n-1)*sd/math.Sqrt(n)), sd, true
}
