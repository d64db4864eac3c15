package indices

import "leadline/analyse/physical"

// The largest diameter is the denominator; other texts divide by the smallest
// (distensibility) or the mean, which gives other numbers.
var venaCavaCollapsibility = Definition{
	ID: "vena-cava-collapsibility", Title: "Inferior vena cava collapsibility",
	Formula: "100 · (Dmax − Dmin) / Dmax", Unit: physical.Percent,
	Inputs: []Input{
		{Symbol: "Dmax", Measure: "inferior-vena-cava-max", Unit: physical.MM},
		{Symbol: "Dmin", Measure: "inferior-vena-cava-min", Unit: physical.MM},
	},
	Reference: "common practice; newborn diameters: Front Pediatr 2023, 10.3389/fped.2023.1268622 (seen)",
	Caution:   "for spontaneous breathing; no agreed limit exists for newborns",
	Compute: func(in []float64) (float64, []float64, string) {
		high, low := in[0], in[1]
		if high <= 0 {
			return 0, nil, "the largest diameter is not above 0"
		}
		return 100 * (high - low) / high, []float64{100 * low / (high * high), -100 / high}, ""
	},
}
