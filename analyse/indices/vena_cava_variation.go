package indices

import "leadline/analyse/physical"

var venaCavaVariation = Definition{
	ID: "vena-cava-variation", Title: "Inferior vena cava variation about the mean",
	Formula: "100 · (Dmax − Dmin) / ((Dmax + Dmin) / 2)", Unit: physical.Percent,
	Inputs:    []Input{divisor(venaCavaMax), venaCavaMin},
	Reference: "Feissel 2004, Intensive Care Med 30:1834; from memory",
	Caution:   "for ventilated breathing; the mean of both diameters is the denominator",
	Compute: ordered(largestFirst, func(in []float64) (float64, []float64, string) {
		a, b := in[0], in[1]
		sum := a + b
		if sum <= 0 {
			return 0, nil, "the diameters are not above 0"
		}
		return 200 * (a - b) / sum, []float64{400 * b / (sum * sum), -400 * a / (sum * sum)}, ""
	}),
}
