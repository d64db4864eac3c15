package indices

import "leadline/analyse/physical"

// assumedAtrialPressure is not measured. Its error is no part of the uncertainty,
// and the caution of every index that adds it says so.
var assumedAtrialPressure = Input{
	Symbol: "RAP", Unit: physical.MMHg, Common: true,
	Assumed: physical.Quantity{Value: 5, Unit: physical.MMHg},
}

const atrialCaution = "RAP, the right atrial pressure, is assumed to be 5 mmHg (3 to 10 in newborns, from memory) and not measured; what it may be off is not in the uncertainty"

var rvSystolicPressure = Definition{
	ID: "rv-systolic-pressure", Title: "Right ventricular systolic pressure from the tricuspid jet",
	Formula: "4 · v² + RAP, v in m/s", Unit: physical.MMHg,
	Inputs: []Input{
		{Symbol: "v", Measure: "tricuspid-regurgitation-peak-velocity", Unit: physical.CMPerS}, assumedAtrialPressure,
	},
	Reference: "Mertens 2011, J Am Soc Echocardiogr 24:1057; from memory",
	Caution:   atrialCaution,
	Compute: func(in []float64) (float64, []float64, string) {
		v := in[0] / cmPerM
		return 4*v*v + in[1], []float64{8 * v / cmPerM, 1}, ""
	},
}

var pulmonaryPressureByTime = Definition{
	ID: "pulmonary-pressure-by-acceleration-time", Title: "Pulmonary artery systolic pressure from the acceleration time",
	Formula: "82.6 − 0.58 · PAAT + RAP, PAAT in ms", Unit: physical.MMHg,
	Inputs: []Input{
		{Symbol: "PAAT", Measure: "pulmonary-acceleration-time", Unit: physical.S}, assumedAtrialPressure,
	},
	Reference: "infants up to 4 months, r −0.83, 2019 (cord-0011366-lvsnxp81, seen)",
	Caution:   "a regression line, whose own scatter is not in the uncertainty; " + atrialCaution,
	Compute: func(in []float64) (float64, []float64, string) {
		const msPerS = 1000
		p := 82.6 - 0.58*in[0]*msPerS + in[1]
		if p < 0 {
			return 0, nil, "the acceleration time is beyond the line: the pressure would be negative"
		}
		return p, []float64{-0.58 * msPerS, 1}, ""
	},
}
