package indices

import "leadline/analyse/physical"

// resistiveIndex is above 1 where diastolic flow is reversed, and stays so. Healthy
// term newborns have such a superior mesenteric artery (mean 1.09 at 2 hours).
// PSV enters twice: ∂RI/∂PSV = EDV/PSV². An error of the velocity scale that both
// share cancels and is no part of the uncertainty.
func resistiveIndex(id, title string) Definition {
	return Definition{
		ID: "resistive-index-" + id, Title: "Resistive index, " + title,
		Formula: "(PSV − EDV) / PSV", Unit: physical.One,
		Inputs:    []Input{divisor(peak(id)), endDiastolic(id)},
		Reference: "Pourcelot 1974; from memory",
		Compute: func(in []float64) (float64, []float64, string) {
			v, sign, refusal := upright(in)
			if refusal != "" {
				return 0, nil, refusal
			}
			p, e := v[0], v[1]
			return (p - e) / p, turned([]float64{e / (p * p), -1 / p}, sign), ""
		},
	}
}
