package indices

import "leadline/analyse/physical"

// The myocardial performance index has two routes: isovolumic times, or the time
// from closure to opening of the inflow valve. Both stand side by side.
var (
	lvPerformance          = performance("lv", "Left", "lv-isovolumic-contraction-time", "lv-isovolumic-relaxation-time", lvEjectionTime)
	rvPerformance          = performance("rv", "Right", "rv-isovolumic-contraction-time", "rv-isovolumic-relaxation-time", rvEjectionTime)
	lvPerformanceByClosure = performanceByClosure("lv", "Left", "mitral-closure-to-opening-time", lvEjectionTime)
	rvPerformanceByClosure = performanceByClosure("rv", "Right", "tricuspid-closure-to-opening-time", rvEjectionTime)
)

const teiReference = "Tei 1995, J Cardiol 26:357; from memory"

func performance(id, side, contraction, relaxation string, ejection Input) Definition {
	return Definition{
		ID: id + "-performance-index", Title: side + " ventricular myocardial performance index from isovolumic times",
		Formula: "(ICT + IRT) / ET", Unit: physical.One,
		Inputs: []Input{
			{Symbol: "ICT", Measure: contraction, Unit: physical.S}, {Symbol: "IRT", Measure: relaxation, Unit: physical.S}, divisor(common(ejection)),
		},
		Reference: teiReference,
		Compute: func(in []float64) (float64, []float64, string) {
			v, by, refusal := ratio("the ejection time")([]float64{in[0] + in[1], in[2]})
			if refusal != "" {
				return 0, nil, refusal
			}
			return v, []float64{by[0], by[0], by[1]}, ""
		},
	}
}

func performanceByClosure(id, side, closure string, ejection Input) Definition {
	return Definition{
		ID: id + "-performance-index-by-closure", Title: side + " ventricular myocardial performance index from closure to opening",
		Formula: "(TCO − ET) / ET", Unit: physical.One,
		Inputs:    []Input{{Symbol: "TCO", Measure: closure, Unit: physical.S}, divisor(common(ejection))},
		Reference: teiReference,
		Compute: func(in []float64) (float64, []float64, string) {
			if in[0] < in[1] {
				return 0, nil, "the time from closure to opening is shorter than the ejection"
			}
			v, by, refusal := ratio("the ejection time")(in)
			return v - 1, by, refusal
		},
	}
}
