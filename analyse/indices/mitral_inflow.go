package indices

import (
	"math"

	"leadline/analyse/physical"
)

var mitralE = Input{Symbol: "E", Measure: "mitral-e", Unit: physical.CMPerS}

var (
	mitralEToA       = eToA("mitral", "Mitral")
	tricuspidEToA    = eToA("tricuspid", "Tricuspid")
	mitralEToLateral = eToEPrime("lateral")
	mitralEToSeptal  = eToEPrime("septal")
)

func eToA(valve, title string) Definition {
	return Definition{
		ID: valve + "-e-to-a", Title: title + " E to A",
		Formula: "E / A", Unit: physical.One,
		Inputs: []Input{
			{Symbol: "E", Measure: valve + "-e", Unit: physical.CMPerS},
			divisor(Input{Symbol: "A", Measure: valve + "-a", Unit: physical.CMPerS}),
		},
		Reference: "common practice, no source",
		Caution:   "waves that are fused, as above 180 beats a minute, have no ratio; that is not checked",
		Compute: func(in []float64) (float64, []float64, string) {
			if in[0]*in[1] <= 0 {
				return 0, nil, "a wave is 0 or the two have different signs"
			}
			return sizes(in)
		},
	}
}

// eToEPrime divides the inflow by the speed of the annulus, which moves the other way.
func eToEPrime(wall string) Definition {
	return Definition{
		ID: "mitral-e-to-e-prime-" + wall, Title: "Mitral E to " + wall + " e′",
		Formula: "|E| / |e′|", Unit: physical.One,
		Inputs:    []Input{common(mitralE), divisor(Input{Symbol: "e′", Measure: "mitral-" + wall + "-e-prime", Unit: physical.CMPerS})},
		Reference: "common practice, no source",
		Compute:   sizes,
	}
}

// sizes is |a|/|b| with both derivatives.
func sizes(in []float64) (float64, []float64, string) {
	a, b := in[0], in[1]
	if b == 0 {
		return 0, nil, "the denominator is 0"
	}
	q := math.Abs(a / b)
	return q, []float64{math.Copysign(1/math.Abs(b), a), -q / b}, ""
}
