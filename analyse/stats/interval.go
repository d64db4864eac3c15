package stats

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// Estimate is a value with its 95 % confidence interval. Where nothing scatters, both
// ends are the value: there is no interval then.
type Estimate struct{ Value, Low, High float64 }

// HasInterval tells that there was scatter to tell an interval by. Differences that are
// all equal have none: the formulas would give an interval of no width, as if the value
// were certain, while pixels merely come in steps.
func (e Estimate) HasInterval() bool { return e.High > e.Low }

// leastScatter is the part of the size of values below which their scatter is the
// rounding of doubles: some thousand times its step of 2⁻⁵².
const leastScatter = 1e-12

// scatter is a standard deviation of values of this size, 0 where it is but rounding.
func scatter(sd, size float64) float64 {
	if sd <= leastScatter*size {
		return 0
	}
	return sd
}

// largest is the size of the largest of all values.
func largest(lists ...[]float64) float64 {
	size := 0.0
	for _, list := range lists {
		for _, v := range list {
			size = math.Max(size, math.Abs(v))
		}
	}
	return size
}

// upper is the probability below the upper end of a two-sided 95 % interval.
const upper = 0.975

// z is the same quantile of the normal distribution, rounded as Bland and Altman do
// from 1999 on: 95 % of differences lie within bias ± z standard deviations.
const z = 1.96

// t is the quantile of Student's distribution with degrees of freedom.
func t(degrees float64) float64 {
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: degrees}.Quantile(upper)
}

// f is the quantile of the F distribution.
func f(numerator, denominator float64) float64 {
	return distuv.F{D1: numerator, D2: denominator}.Quantile(upper)
}

// around is value ± half.
func around(value, half float64) Estimate { return Estimate{value, value - half, value + half} }

// ofSD is a standard deviation with its interval from the χ² distribution:
// s·√(ν/χ²).
func ofSD(s, degrees float64) Estimate {
	chi := distuv.ChiSquared{K: degrees}
	return Estimate{s, s * math.Sqrt(degrees/chi.Quantile(upper)), s * math.Sqrt(degrees/chi.Quantile(1-upper))}
}
