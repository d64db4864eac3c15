package indices

import (
	"math"

	"leadline/analyse/physical"
)

// volumesOf are the volumes by outline and long axis at one end of the beat.
func volumesOf(phase string) []Definition {
	length := Input{Symbol: "L", Measure: "lv-long-axis-" + phase, Unit: physical.MM, Common: true}
	apical := Input{Symbol: "A", Measure: "lv-four-chamber-area-" + phase, Unit: physical.MM2}
	return []Definition{
		{
			ID: "lv-volume-area-length-" + phase, Title: "Left ventricular volume in " + phase + ", area and length",
			Formula: "8 · A² / (3π · L)", Unit: physical.ML,
			Inputs:    []Input{apical, divisor(length)},
			Reference: "geometry: exact for an ellipsoid of revolution",
			Compute:   product(8/(3*math.Pi), 2, -1),
		},
		{
			ID: "lv-volume-bullet-" + phase, Title: "Left ventricular volume in " + phase + ", short axis area and length",
			Formula: "5/6 · A · L", Unit: physical.ML,
			Inputs:    []Input{{Symbol: "A", Measure: "lv-short-axis-area-" + phase, Unit: physical.MM2}, length},
			Reference: "Lopez 2010, J Am Soc Echocardiogr 23:465; from memory",
			Compute:   product(5.0/6, 1, 1),
		},
		{
			ID: "lv-volume-biplane-area-length-" + phase, Title: "Left ventricular volume in " + phase + ", two areas and length",
			Formula: "0.85 · A1 · A2 / L", Unit: physical.ML,
			Inputs: []Input{
				{Symbol: "A1", Measure: "lv-four-chamber-area-" + phase, Unit: physical.MM2, Common: true},
				{Symbol: "A2", Measure: "lv-two-chamber-area-" + phase, Unit: physical.MM2}, divisor(length),
			},
			Reference: "Lopez 2010, J Am Soc Echocardiogr 23:465; from memory",
			Compute:   product(0.85, 1, 1, -1),
		},
	}
}

// product is k·Π xᵢ^powerᵢ in mL from lengths in mm and areas in mm²; all inputs
// must be above 0.
func product(k float64, powers ...float64) func([]float64) (float64, []float64, string) {
	return func(in []float64) (float64, []float64, string) {
		value := k / mm3PerML
		for i, x := range in {
			if x <= 0 {
				return 0, nil, "an area or a length is not above 0"
			}
			value *= math.Pow(x, powers[i])
		}
		by := make([]float64, len(in))
		for i, x := range in {
			by[i] = powers[i] * value / x
		}
		return value, by, ""
	}
}
