package indices

import "leadline/analyse/physical"

// The simplified Bernoulli equation, ΔP = 4·v² in mmHg with v in m/s. The constant
// rounds ρ/2 (1060 kg/m³ gives 3.975 mmHg per (m/s)²).
var (
	tricuspidGradient      = bernoulli("tricuspid-regurgitation-gradient", "Tricuspid regurgitation peak gradient", "tricuspid-regurgitation-peak-velocity")
	ductGradient           = bernoulli("duct-gradient", "Ductus arteriosus peak systolic gradient", "duct-peak-systolic-velocity")
	ductDiastolicGradient  = bernoulli("duct-end-diastolic-gradient", "Ductus arteriosus end diastolic gradient", "duct-end-diastolic-velocity")
	lvOutflowGradient      = bernoulli("lv-outflow-gradient", "Left ventricular outflow peak gradient", "lv-outflow-peak-velocity")
	aorticValveGradient    = bernoulli("aortic-valve-gradient", "Aortic valve peak gradient", "aortic-valve-peak-velocity")
	pulmonaryValveGradient = bernoulli("pulmonary-valve-gradient", "Pulmonary valve peak gradient", "pulmonary-valve-peak-velocity")
	aorticIsthmusGradient  = bernoulli("aortic-isthmus-gradient", "Aortic isthmus peak gradient", "aortic-isthmus-peak-velocity")
	foramenOvaleGradient   = bernoulli("foramen-ovale-gradient", "Foramen ovale peak gradient", "foramen-ovale-velocity")
)

const (
	cmPerM             = 100
	bernoulliReference = "Hatle 1978, Br Heart J 40:131; from memory"
)

func bernoulli(id, title, velocity string) Definition {
	return Definition{
		ID: id, Title: title, Formula: "4 · v², v in m/s", Unit: physical.MMHg,
		Inputs:    []Input{{Symbol: "v", Measure: velocity, Unit: physical.CMPerS}},
		Reference: bernoulliReference,
		Caution:   "leaves out the velocity before the narrowing, which counts from about 1 m/s on; the sign of v is lost",
		Compute: func(in []float64) (float64, []float64, string) {
			v := in[0] / cmPerM
			return 4 * v * v, []float64{8 * v / cmPerM}, ""
		},
	}
}

// aorticValveNetGradient takes the velocity before the valve into account.
var aorticValveNetGradient = Definition{
	ID: "aortic-valve-net-gradient", Title: "Aortic valve peak gradient less that before the valve",
	Formula: "4 · (v2² − v1²), in m/s", Unit: physical.MMHg,
	Inputs: []Input{
		{Symbol: "v2", Measure: "aortic-valve-peak-velocity", Unit: physical.CMPerS},
		{Symbol: "v1", Measure: "lv-outflow-peak-velocity", Unit: physical.CMPerS, Common: true},
	},
	Reference: bernoulliReference,
	Compute: func(in []float64) (float64, []float64, string) {
		v2, v1 := in[0]/cmPerM, in[1]/cmPerM
		if v1*v1 > v2*v2 {
			return 0, nil, "the velocity before the valve is larger than that behind it"
		}
		return 4 * (v2*v2 - v1*v1), []float64{8 * v2 / cmPerM, -8 * v1 / cmPerM}, ""
	},
}
