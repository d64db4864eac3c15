package indices

import "leadline/analyse/physical"

var ejectionFractionByVolumes = Definition{
	ID: "ejection-fraction-by-volumes", Title: "Ejection fraction from measured volumes",
	Formula: "100 · (EDV − ESV) / EDV", Unit: physical.Percent,
	Inputs: []Input{
		divisor(Input{Symbol: "EDV", Measure: "lv-end-diastolic-volume", Unit: physical.ML}),
		{Symbol: "ESV", Measure: "lv-end-systolic-volume", Unit: physical.ML},
	},
	Reference: "by definition",
	Caution:   "both volumes must be of one method; that is not checked",
	Compute: func(in []float64) (float64, []float64, string) {
		if in[1] > in[0] {
			return 0, nil, "the systolic volume is larger than the diastolic one"
		}
		return part("the diastolic volume")(in)
	},
}

// part is 100·(a − b)/a with both derivatives; a must be above 0.
func part(whole string) func([]float64) (float64, []float64, string) {
	return func(in []float64) (float64, []float64, string) {
		a, b := in[0], in[1]
		if a <= 0 {
			return 0, nil, whole + " is not above 0"
		}
		return 100 * (a - b) / a, []float64{100 * b / (a * a), -100 / a}, ""
	}
}
