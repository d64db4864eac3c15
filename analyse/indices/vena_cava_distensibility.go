package indices

import "leadline/analyse/physical"

var venaCavaDistensibility = Definition{
	ID: "vena-cava-distensibility", Title: "Inferior vena cava distensibility",
	Formula: "100 · (Dmax − Dmin) / Dmin", Unit: physical.Percent,
	Inputs:    []Input{venaCavaMax, divisor(venaCavaMin)},
	Reference: "Barbier 2004, Intensive Care Med 30:1740; from memory",
	Caution:   "for ventilated breathing; the smallest diameter is the denominator; no limit exists for newborns",
	Compute:   ordered(largestFirst, increase("the smallest diameter")),
}

// increase is 100·(a − b)/b with both derivatives; b must be above 0.
func increase(start string) func([]float64) (float64, []float64, string) {
	return func(in []float64) (float64, []float64, string) {
		a, b := in[0], in[1]
		if b <= 0 {
			return 0, nil, start + " is not above 0"
		}
		return 100 * (a - b) / b, []float64{100 / b, -100 * a / (b * b)}, ""
	}
}
