package indices

import "leadline/analyse/physical"

// EF = 100·(1 − V(s)/V(d)) with V(D) = 7·D³/(2.4 + D), D in cm.
//
//	dV/dD = 7·D²·(7.2 + 2·D)/(2.4 + D)²
var teichholzEjectionFraction = Definition{
	ID: "teichholz-ejection-fraction", Title: "Ejection fraction (Teichholz)",
	Formula: "100 · (V(LVIDd) − V(LVIDs)) / V(LVIDd), V(D) = 7.0 / (2.4 + D) · D³, D in cm", Unit: physical.Percent,
	Inputs:    []Input{divisor(lvDiastole), lvSystole},
	Reference: "Teichholz 1976, Am J Cardiol 37:7; from memory",
	Caution:   teichholzCaution,
	Compute: func(in []float64) (float64, []float64, string) {
		if refusal := shrinking(in); refusal != "" {
			return 0, nil, refusal
		}
		const mmPerCM = 10
		vd, slopeD := teichholz(in[0] / mmPerCM)
		vs, slopeS := teichholz(in[1] / mmPerCM)
		return 100 * (1 - vs/vd), []float64{100 * vs * slopeD / (vd * vd) / mmPerCM, -100 * slopeS / vd / mmPerCM}, ""
	},
}

// teichholz is the volume in mL and its slope in mL/cm for a diameter in cm.
func teichholz(d float64) (volume, slope float64) {
	k := 2.4 + d
	return 7 * d * d * d / k, 7 * d * d * (7.2 + 2*d) / (k * k)
}
