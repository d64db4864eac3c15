package indices

import "leadline/analyse/physical"

var lvOutputPerKg = Definition{
	ID: "lv-output-per-kg", Title: "Left ventricular output per kilogram",
	Formula: "π/4 · d² · VTI · HR / weight", Unit: physical.MLPerMinPerKg,
	Inputs: []Input{
		outflowDiameter, outflowVTI,
		{Symbol: "HR", Measure: "heart-rate", As: &heartRate, Unit: physical.PerMin, Common: true},
		{Symbol: "weight", Unit: kilogram, Common: true, Header: weight},
	},
	Reference: "Mertens 2011, J Am Soc Echocardiogr 24:1057; from memory",
	Caution:   "the weight is the header's; its age is not known",
	Compute: func(in []float64) (float64, []float64, string) {
		sv, by, refusal := strokeVolume(in[:2])
		if refusal != "" {
			return 0, nil, refusal
		}
		hr, kg := in[2], in[3]
		per := hr / kg
		return sv * per, []float64{by[0] * per, by[1] * per, sv / kg, -sv * per / kg}, ""
	},
}
