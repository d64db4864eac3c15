package indices

import "leadline/analyse/physical"

var (
	venaCavaMax = Input{Symbol: "Dmax", Measure: "inferior-vena-cava-max", Unit: physical.MM}
	venaCavaMin = Input{Symbol: "Dmin", Measure: "inferior-vena-cava-min", Unit: physical.MM}
)

// The largest diameter is the denominator; the smallest makes distensibility, the
// mean a third number. Each is an index of its own.
var venaCavaCollapsibility = Definition{
	ID: "vena-cava-collapsibility", Title: "Inferior vena cava collapsibility",
	Formula: "100 · (Dmax − Dmin) / Dmax", Unit: physical.Percent,
	Inputs:    []Input{divisor(venaCavaMax), venaCavaMin},
	Reference: "common practice; newborn diameters: Front Pediatr 2023, 10.3389/fped.2023.1268622 (seen)",
	Caution:   "for spontaneous breathing; no agreed limit exists for newborns",
	Compute:   ordered(largestFirst, part("the largest diameter")),
}

// largestFirst refuses a smallest diameter that is larger than the largest: the two
// were exchanged.
func largestFirst(in []float64) string {
	if in[1] > in[0] {
		return "the smallest diameter is larger than the largest: the formula would be negative"
	}
	return ""
}

// ordered computes f where its inputs are not refused.
func ordered(refuse func([]float64) string, f func([]float64) (float64, []float64, string)) func([]float64) (float64, []float64, string) {
	return func(in []float64) (float64, []float64, string) {
		if refusal := refuse(in); refusal != "" {
			return 0, nil, refusal
		}
		return f(in)
	}
}
