package stats

import "math"

// EWMA is the exponentially weighted moving average of values from a target z₀ on:
//
//	zᵢ = λ·xᵢ + (1−λ)·zᵢ₋₁
//
// 0 < λ ≤ 1; with 1 it is the values themselves. NIST/SEMATECH e-Handbook 6.3.2.4.
func EWMA(values []float64, target, lambda float64) []float64 {
	out := make([]float64, len(values))
	z := target
	for i, x := range values {
		z = lambda*x + (1-lambda)*z
		out[i] = z
	}
	return out
}

// EWMALimits are the limits of an EWMA chart for values of standard deviation sigma:
// those that it comes to after many values, which are a little wide for the first few.
//
//	target ± width·sigma·√(λ/(2−λ))
//
// NIST/SEMATECH e-Handbook 6.3.2.4, width 3.
func EWMALimits(target, sigma, lambda, width float64) Limits {
	half := width * sigma * math.Sqrt(lambda/(2-lambda))
	return Limits{target, target - half, target + half}
}
