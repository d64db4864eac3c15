package indices

import "leadline/analyse/physical"

// The valve area of 220 / PHT is an adult mitral constant and left out.
var pressureHalfTime = Definition{
	ID: "pressure-half-time", Title: "Pressure half-time from the deceleration time",
	Formula: "0.29 · DT", Unit: physical.S,
	Inputs:    []Input{{Symbol: "DT", Measure: "deceleration-time", Unit: physical.S}},
	Reference: "Hatle and Angelsen 1985; from memory",
	Caution:   "holds for a deceleration in a straight line",
	Compute: func(in []float64) (float64, []float64, string) {
		if in[0] <= 0 {
			return 0, nil, "the deceleration time is not above 0"
		}
		return 0.29 * in[0], []float64{0.29}, ""
	},
}
