package indices

import (
	"math"

	"leadline/analyse/physical"
)

// descendingAortaRetrograde is how much of what runs down the aorta in systole runs back
// in diastole, through an open duct. Both areas are of one strip, so that a common error
// of its velocities cancels.
var descendingAortaRetrograde = Definition{
	ID: "descending-aorta-retrograde-fraction", Title: "Descending aorta, retrograde diastolic flow of forward flow",
	Formula: "100 · |VTIr| / |VTIf|", Unit: physical.Percent,
	Inputs: []Input{
		{Symbol: "VTIr", Measure: "descending-aorta-reverse-vti", Unit: physical.MM},
		divisor(common(Input{Symbol: "VTIf", Measure: "descending-aorta-forward-vti", Unit: physical.MM})),
	},
	Reference: "Skinner 2001 (review of the duct, seen)",
	Caution:   "areas under velocities, not flows: the vessel is taken as equally wide in systole and diastole; which of the two is reverse, the label says, not the sign",
	Compute: func(in []float64) (float64, []float64, string) {
		reverse, forward := in[0], in[1]
		if forward == 0 {
			return 0, nil, "the forward velocity-time integral is 0"
		}
		if math.Abs(reverse) > math.Abs(forward) {
			return 0, nil, "more runs back than forward: the two labels may be exchanged"
		}
		q := 100 * math.Abs(reverse/forward)
		return q, []float64{100 * math.Copysign(1/math.Abs(forward), reverse), -q / forward}, ""
	},
}
