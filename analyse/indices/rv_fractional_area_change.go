package indices

import "leadline/analyse/physical"

var rvFractionalAreaChange = Definition{
	ID: "rv-fractional-area-change", Title: "Right ventricular fractional area change",
	Formula: "100 · (RVAd − RVAs) / RVAd", Unit: physical.Percent,
	Inputs: []Input{
		divisor(Input{Symbol: "RVAd", Measure: "rv-area-diastole", Unit: physical.MM2}),
		{Symbol: "RVAs", Measure: "rv-area-systole", Unit: physical.MM2},
	},
	Reference: "Lang 2015, J Am Soc Echocardiogr 28:1; from memory",
	Caution:   "muscle bands of the right ventricle count as cavity; who left them out of one outline has another number",
	Compute: ordered(func(in []float64) string {
		if in[1] > in[0] {
			return "the systolic area is larger than the diastolic one"
		}
		return ""
	}, part("the diastolic area")),
}
