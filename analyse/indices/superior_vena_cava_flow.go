package indices

import "leadline/analyse/physical"

// The mean of both diameters is squared, not the mean of both areas, which gives
// another number.
var superiorVenaCavaFlow = Definition{
	ID: "superior-vena-cava-flow-per-kg", Title: "Superior vena cava flow per kilogram",
	Formula: "π/4 · ((Dmax + Dmin) / 2)² · |VTI| · HR / weight", Unit: physical.MLPerMinPerKg,
	Inputs: []Input{
		{Symbol: "Dmax", Measure: "superior-vena-cava-max", Unit: physical.MM},
		{Symbol: "Dmin", Measure: "superior-vena-cava-min", Unit: physical.MM},
		{Symbol: "VTI", Measure: "superior-vena-cava-vti", Unit: physical.MM},
		beatRate, bodyWeight,
	},
	Reference: "Kluckow and Evans 2000, Arch Dis Child Fetal Neonatal Ed 82:F182 (seen in part)",
	Caution:   "the diameter enters squared; VTI should be the mean of 8 to 10 beats, since breathing changes it; " + weightCaution,
	Compute: perKg(times(func(in []float64) (float64, []float64, string) {
		v, by, refusal := flow([]float64{(in[0] + in[1]) / 2, in[2]})
		if refusal != "" {
			return 0, nil, refusal
		}
		return v, []float64{by[0] / 2, by[0] / 2, by[1]}, ""
	}, "the heart rate is not above 0")),
}
