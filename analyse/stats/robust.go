package stats

import (
	"math"
	"slices"
)

// Median is the middle of the values, the mean of the two middle ones where they are
// even in number; ok is false where there is none.
func Median(values []float64) (m float64, ok bool) {
	if len(values) == 0 {
		return 0, false
	}
	sorted := slices.Sorted(slices.Values(values))
	n := len(sorted)
	return sorted[n/2]/2 + sorted[(n-1)/2]/2, true
}

// normalMAD makes the median absolute deviation of normal values their standard
// deviation: 1/Φ⁻¹(3/4) (Rousseeuw and Croux 1993, J Am Stat Assoc 88:1273; from memory).
const normalMAD = 1.482602218505602

// Spread is the scaled median absolute deviation from the median, which half of the
// values may leave without moving it far; ok is false below two values.
func Spread(values []float64) (s float64, ok bool) {
	m, _ := Median(values)
	if len(values) < 2 {
		return 0, false
	}
	deviations := make([]float64, len(values))
	for i, v := range values {
		deviations[i] = math.Abs(v - m)
	}
	mad, _ := Median(deviations)
	return normalMAD * mad, true
}

// mostPairs bounds the work of Slope: above so many points every kth is taken.
const mostPairs = 600

// Slope is the median of the slopes between all pairs of points of different x
// (Theil 1950; Sen 1968, J Am Stat Assoc 63:1379; from memory). Up to 29 % of the
// points may be anything. ok is false where no two points differ in x.
func Slope(x, y []float64) (slope float64, ok bool) {
	step := 1 + (len(x)-1)/mostPairs
	var slopes []float64
	for i := 0; i < len(x); i += step {
		for j := i + step; j < len(x); j += step {
			if x[j] != x[i] {
				slopes = append(slopes, (y[j]-y[i])/(x[j]-x[i]))
			}
		}
	}
	return Median(slopes)
}
