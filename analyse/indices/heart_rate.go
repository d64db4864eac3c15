package indices

import "leadline/analyse/physical"

var heartRate = Definition{
	ID: "heart-rate", Title: "Heart rate from the R-R interval",
	Formula: "60 / RR", Unit: physical.PerMin,
	Inputs:    []Input{{Symbol: "RR", Measure: "r-r-interval", Unit: physical.S}},
	Reference: "by definition",
	Caution:   "the interval is taken as one beat",
	Compute: func(in []float64) (float64, []float64, string) {
		if in[0] <= 0 {
			return 0, nil, "the R-R interval is not above 0"
		}
		return 60 / in[0], []float64{-60 / (in[0] * in[0])}, ""
	},
}
