package indices

import "leadline/analyse/physical"

// The simplified Bernoulli equation, ΔP = 4·v² in mmHg with v in m/s. The constant
// rounds ρ/2 (1060 kg/m³ gives 3.975 mmHg per (m/s)²).
var (
	tricuspidGradient = bernoulli("tricuspid-regurgitation-gradient", "Tricuspid regurgitation peak gradient", "tricuspid-regurgitation-peak-velocity")
	ductGradient      = bernoulli("duct-gradient", "Ductus arteriosus peak systolic gradient", "duct-peak-systolic-velocity")
)

func bernoulli(id, title, velocity string) Definition {
	return Definition{
		ID: id, Title: title, Formula: "4 · v², v in m/s", Unit: physical.MMHg,
		Inputs:    []Input{{Symbol: "v", Measure: velocity, Unit: physical.CMPerS}},
		Reference: "Hatle 1978, Br Heart J 40:131; from memory",
		Caution:   "leaves out the velocity before the narrowing, which counts from about 1 m/s on; the sign of v is lost",
		Compute: func(in []float64) (float64, []float64, string) {
			const cmPerM = 100
			v := in[0] / cmPerM
			return 4 * v * v, []float64{8 * v / cmPerM}, ""
		},
	}
}
