package indices

import "leadline/analyse/physical"

// systolicDiastolicRatio has no meaning where diastolic flow is absent or reversed;
// the resistive index has.
func systolicDiastolicRatio(id, title string) Definition {
	return Definition{
		ID: "systolic-diastolic-ratio-" + id, Title: "Systolic to diastolic ratio, " + title,
		Formula: "PSV / EDV", Unit: physical.One,
		Inputs:    []Input{peak(id), divisor(endDiastolic(id))},
		Reference: "common practice, no source",
		Compute: func(in []float64) (float64, []float64, string) {
			v, sign, refusal := upright(in)
			if refusal != "" {
				return 0, nil, refusal
			}
			p, e := v[0], v[1]
			if e <= 0 {
				return 0, nil, "diastolic flow is absent or reversed: no ratio; see the resistive index"
			}
			return p / e, turned([]float64{1 / e, -p / (e * e)}, sign), ""
		},
	}
}
