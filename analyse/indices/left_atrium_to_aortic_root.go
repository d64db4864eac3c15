package indices

import "leadline/analyse/physical"

var leftAtriumToAorticRoot = Definition{
	ID: "left-atrium-to-aortic-root", Title: "Left atrium to aortic root",
	Formula: "LA / Ao", Unit: physical.One,
	Inputs: []Input{
		{Symbol: "LA", Measure: "left-atrium-diameter", Unit: physical.MM},
		divisor(Input{Symbol: "Ao", Measure: "aortic-root-diameter", Unit: physical.MM}),
	},
	Reference: "Silverman 1974, Circulation 49:821; from memory",
	Caution:   "both should lie on one M-mode line or in one view; that is not checked",
	Compute:   ratio("the aortic root diameter"),
}

// ratio is a/b with both derivatives; b must be above 0.
func ratio(denominator string) func([]float64) (float64, []float64, string) {
	return scaledRatio(1, denominator)
}

// scaledRatio is k·a/b.
func scaledRatio(k float64, denominator string) func([]float64) (float64, []float64, string) {
	return func(in []float64) (float64, []float64, string) {
		a, b := in[0], in[1]
		if b <= 0 {
			return 0, nil, denominator + " is not above 0"
		}
		return k * a / b, []float64{k / b, -k * a / (b * b)}, ""
	}
}
