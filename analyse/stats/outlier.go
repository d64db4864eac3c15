package stats

import (
	"math"
	"slices"
)

// OutlierZ is the modified z above which a value is called an outlier (Iglewicz and
// Hoaglin 1993, How to detect and handle outliers; also NIST e-Handbook 1.3.5.17).
const OutlierZ = 3.5

// The factors of the modified z: 0.6745 is the upper quartile of the normal
// distribution, so that MAD/0.6745 estimates its standard deviation, as does
// 1.253314 (√(π/2)) times the mean absolute deviation.
const (
	quartile       = 0.6745
	meanAbsolute   = 1.253314
	smallestSpread = 1e-12
)

// Centre is where values lie and how far they spread, by measures that a few strange
// values do not move.
type Centre struct {
	N int
	// Median is the middle value, MAD the median of the distances from it, MeanAD
	// their mean.
	Median, MAD, MeanAD float64
}

// CentreOf describes values, of which there must be one.
func CentreOf(values []float64) Centre {
	c := Centre{N: len(values), Median: Median(values)}
	distances := make([]float64, len(values))
	for i, v := range values {
		distances[i] = math.Abs(v - c.Median)
		c.MeanAD += distances[i] / float64(len(values))
	}
	c.MAD = Median(distances)
	return c
}

// ModifiedZ is 0.6745·(v − median)/MAD. Where more than half of the values are equal
// the MAD is 0; the mean absolute deviation then stands in with 1.253314 (shared
// reference measurements.md 4.9). Where that is 0 too, all values are equal and z is 0.
func (c Centre) ModifiedZ(v float64) float64 {
	d := v - c.Median
	switch least := smallestSpread * math.Abs(c.Median); {
	case c.MAD > least:
		return quartile * d / c.MAD
	case c.MeanAD > least:
		return d / (meanAbsolute * c.MeanAD)
	}
	return 0
}

// Median is the middle value, between the two middle ones where their number is even.
// There must be one.
func Median(values []float64) float64 {
	sorted := slices.Sorted(slices.Values(values))
	n := len(sorted)
	if n%2 == 1 {
		return sorted[n/2]
	}
	return sorted[n/2-1] + (sorted[n/2]-sorted[n/2-1])/2
}
