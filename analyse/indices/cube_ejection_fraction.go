package indices

import "leadline/analyse/physical"

var cubeEjectionFraction = Definition{
	ID: "cube-ejection-fraction", Title: "Ejection fraction (cube formula)",
	Formula: "100 · (LVIDd³ − LVIDs³) / LVIDd³", Unit: physical.Percent,
	Inputs:    []Input{divisor(lvDiastole), lvSystole},
	Reference: "common practice, no source",
	Caution:   "always higher than by Teichholz's formula",
	Compute: func(in []float64) (float64, []float64, string) {
		if refusal := shrinking(in); refusal != "" {
			return 0, nil, refusal
		}
		d := in[0]
		q := in[1] / d
		return 100 * (1 - q*q*q), []float64{300 * q * q * q / d, -300 * q * q / d}, ""
	},
}
