package indices

import "slices"

// All are the indices in the order of their rows. Left out, with the reason:
//
//   - volumes and output from biplane outlines: the two planes of one measurement
//     are not told apart in archives;
//   - LV mass: its 0.6 g constant is a tenth of a newborn heart;
//   - RV systolic pressure: it adds an assumed right atrial pressure;
//   - velocity-time integrals by the trapezoid rule: archives keep no envelope.
var All = slices.Concat(
	[]Definition{
		fractionalShortening, teichholzEjectionFraction, leftAtriumToAorticRoot,
		heartRate, lvStrokeVolume, lvOutputPerKg,
		accelerationToEjectionTime, tricuspidGradient, ductGradient, venaCavaCollapsibility,
	},
	ofVessels(resistiveIndex), ofVessels(pulsatilityIndex), ofVessels(systolicDiastolicRatio),
)

// IDs are the ids of all indices in order.
func IDs() []string {
	ids := make([]string, len(All))
	for i := range All {
		ids[i] = All[i].ID
	}
	return ids
}
