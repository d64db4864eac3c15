package indices

import "leadline/analyse/physical"

// superiorVenaCavaShare compares two flows of one child: neither the weight, nor, at one
// heart rate, the beats enter it.
var superiorVenaCavaShare = Definition{
	ID: "superior-vena-cava-to-lv-output", Title: "Superior vena cava flow, share of left ventricular output",
	Formula: "100 · ((Dmax + Dmin) / 2)² · |VTI| / (d² · |VTIo|)", Unit: physical.Percent,
	Inputs: []Input{
		{Symbol: "Dmax", Measure: "superior-vena-cava-max", Unit: physical.MM},
		{Symbol: "Dmin", Measure: "superior-vena-cava-min", Unit: physical.MM},
		{Symbol: "VTI", Measure: "superior-vena-cava-vti", Unit: physical.MM},
		divisor(common(Input{Symbol: "d", Measure: leftVentricle.diameter, Unit: physical.MM})),
		divisor(common(Input{Symbol: "VTIo", Measure: leftVentricle.vti, Unit: physical.MM})),
	},
	Reference: "Kluckow and Evans 2000, Arch Dis Child Fetal Neonatal Ed 82:F182 (37 % with a closed duct, seen); the heart rates of both taken as one",
	Caution:   "both diameters enter squared; with an open duct left ventricular output is not what the body gets",
	Compute: func(in []float64) (float64, []float64, string) {
		cava, by, refusal := flow([]float64{(in[0] + in[1]) / 2, in[2]})
		if refusal != "" {
			return 0, nil, "the flow in the vena cava: " + refusal
		}
		out, byOut, refusal := flow(in[3:])
		if refusal != "" {
			return 0, nil, refusal
		}
		q := 100 * cava / out
		return q, []float64{50 * by[0] / out, 50 * by[0] / out, 100 * by[1] / out, -q * byOut[0] / out, -q * byOut[1] / out}, ""
	},
}
