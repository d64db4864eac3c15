package indices

import "leadline/analyse/physical"

const teichholzCaution = "the formula was fitted on adults; it is unreliable in newborns, most of all with a flattened septum"

var (
	teichholzDiastolicVolume = teichholzVolume("teichholz-end-diastolic-volume", "End diastolic volume (Teichholz)", lvDiastole)
	teichholzSystolicVolume  = teichholzVolume("teichholz-end-systolic-volume", "End systolic volume (Teichholz)", lvSystole)
	teichholzStrokeVolume    = Definition{
		ID: "teichholz-stroke-volume", Title: "Stroke volume (Teichholz)",
		Formula: "V(LVIDd) − V(LVIDs), V(D) = 7.0 / (2.4 + D) · D³, D in cm", Unit: physical.ML,
		Inputs:    []Input{lvDiastole, lvSystole},
		Reference: teichholzEjectionFraction.Reference,
		Caution:   teichholzCaution,
		Compute: func(in []float64) (float64, []float64, string) {
			if refusal := shrinking(in); refusal != "" {
				return 0, nil, refusal
			}
			const mmPerCM = 10
			vd, slopeD := teichholz(in[0] / mmPerCM)
			vs, slopeS := teichholz(in[1] / mmPerCM)
			return vd - vs, []float64{slopeD / mmPerCM, -slopeS / mmPerCM}, ""
		},
	}
)

func teichholzVolume(id, title string, diameter Input) Definition {
	return Definition{
		ID: id, Title: title, Formula: "7.0 / (2.4 + " + diameter.Symbol + ") · " + diameter.Symbol + "³, in cm", Unit: physical.ML,
		Inputs:    []Input{diameter},
		Reference: "Teichholz 1976, Am J Cardiol 37:7; from memory",
		Caution:   teichholzCaution,
		Compute: func(in []float64) (float64, []float64, string) {
			if in[0] <= 0 {
				return 0, nil, "the diameter is not above 0"
			}
			const mmPerCM = 10
			v, slope := teichholz(in[0] / mmPerCM)
			return v, []float64{slope / mmPerCM}, ""
		},
	}
}

// shrinking refuses diameters that are none, and a ventricle larger in systole than
// in diastole: its ejection fraction would be negative, and the two were most likely
// exchanged or taken from different beats.
func shrinking(in []float64) string {
	switch {
	case in[0] <= 0 || in[1] < 0:
		return "a diameter is not above 0"
	case in[1] > in[0]:
		return "the systolic diameter is larger than the diastolic one: the formula would be negative"
	}
	return ""
}
