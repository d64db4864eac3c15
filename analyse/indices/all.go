package indices

import "slices"

// All are the indices in the order of their rows. Left out, with the reason:
//
//   - volumes by discs: they need contours, not values, and are measurements;
//   - valve area from the pressure half-time: its constant is that of adult mitral
//     valves;
//   - velocities from a frequency shift: whether the angle is in the scale already
//     is not said in files.
var All = slices.Concat(
	[]Definition{
		fractionalShortening,
		teichholzDiastolicVolume, teichholzSystolicVolume, teichholzStrokeVolume, teichholzEjectionFraction, cubeEjectionFraction,
		ejectionFractionByVolumes, biplaneEjectionFraction, fourChamberEjectionFraction, biplaneStrokeVolume, biplaneStrokeVolumePerKg,
		meanVCF, meanVCFCorrected,
	},
	volumesOf("diastole"), volumesOf("systole"),
	[]Definition{
		lvMass, lvMassUncorrected, lvMassYoung, lvMassPenn, lvMassPerKg, relativeWallThickness, eccentricity,
		leftAtriumToAorticRoot, lvToAorticRoot,
		heartRate, heartRateOfBeats,
		strokeVolume(leftVentricle), strokeVolumePerKg(leftVentricle), output(leftVentricle), outputPerKg(leftVentricle),
		strokeVolume(rightVentricle), strokeVolumePerKg(rightVentricle), output(rightVentricle), outputPerKg(rightVentricle),
		superiorVenaCavaFlow,
		lvPerformance, lvPerformanceByClosure, rvPerformance, rvPerformanceByClosure, lvPreEjection, rvPreEjection, rvFractionalAreaChange,
		accelerationToEjectionTime, pulmonaryPressureByTime, pressureHalfTime,
		tricuspidGradient, rvSystolicPressure, lvOutflowGradient, aorticValveGradient, aorticValveNetGradient, pulmonaryValveGradient,
		mitralEToA, mitralEToLateral, mitralEToSeptal,
		ductGradient, ductDiastolicGradient, ductPerKg, ductToPulmonaryArtery, systolicDiastolicRatio("duct", "ductus arteriosus"),
		venaCavaCollapsibility, venaCavaDistensibility, venaCavaVariation, venaCavaToAorta,
		frontalOccipitalRatio, frontalTemporalRatio, frontalHornRatio,
	},
	ofSides(diaphragms, diaphragmThickening), lungScores(), ofSides(organs, ellipsoidVolume),
	ofSides(taken, meanOfTakes),
	ofSides(vessels, resistiveIndex), ofSides(vessels, pulsatilityIndex), ofSides(vessels, systolicDiastolicRatio),
)

// IDs are the ids of all indices in order.
func IDs() []string {
	ids := make([]string, len(All))
	for i := range All {
		ids[i] = All[i].ID
	}
	return ids
}
