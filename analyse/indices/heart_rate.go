package indices

import (
	"math"

	"leadline/analyse/physical"
)

var rrInterval = Input{Symbol: "RR", Measure: "r-r-interval", Unit: physical.S}

var heartRate = Definition{
	ID: "heart-rate", Title: "Heart rate from the R-R interval",
	Formula: "60 / RR", Unit: physical.PerMin,
	Inputs:    []Input{divisor(rrInterval)},
	Reference: "by definition",
	Caution:   "the interval is taken as one beat",
	Compute: func(in []float64) (float64, []float64, string) {
		if in[0] <= 0 {
			return 0, nil, "the R-R interval is not above 0"
		}
		return 60 / in[0], []float64{-60 / (in[0] * in[0])}, ""
	},
}

// heartRateOfBeats needs the number of beats beside the interval. It is a count, so
// an error of it would be a whole beat; none is taken.
var heartRateOfBeats = Definition{
	ID: "heart-rate-of-beats", Title: "Heart rate from an interval of several beats",
	Formula: "60 · n / T", Unit: physical.PerMin,
	Inputs: []Input{
		{Symbol: "n", Measure: "beat-count", Unit: physical.One, Count: true},
		divisor(Input{Symbol: "T", Measure: "beats-interval", Unit: physical.S}),
	},
	Reference: "by definition",
	Compute: func(in []float64) (float64, []float64, string) {
		n, t := in[0], in[1]
		switch {
		case n < 1 || n != math.Trunc(n):
			return 0, nil, "the number of beats is not a whole number from 1"
		case t <= 0:
			return 0, nil, "the interval is not above 0"
		}
		return 60 * n / t, []float64{60 / t, -60 * n / (t * t)}, ""
	},
}
