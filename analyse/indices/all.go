package indices

import "slices"

// All are the indices in the order of their rows. Left out, with the reason:
//
//   - volumes by discs: they need contours, not values, and are measurements;
//   - valve area from the pressure half-time: its constant is that of adult mitral
//     valves;
//   - velocities from a frequency shift: whether the angle is in the scale already
//     is not said in files;
//   - a velocity-time integral as half of peak velocity times ejection time: no envelope
//     is a triangle, and its error is not known;
//   - sizes that regressions on weight, length or weeks expect: a reference table holds
//     limits, and the weeks of gestation are in no header;
//   - the difference between both halves of the diaphragm: what it is divided by was not
//     seen in print.
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
		outputByMeanVelocity, outputByMeanVelocityPerKg,
		superiorVenaCavaFlow, superiorVenaCavaShare,
		lvPerformance, lvPerformanceByClosure, rvPerformance, rvPerformanceByClosure, lvPreEjection, rvPreEjection, rvFractionalAreaChange,
		accelerationToEjectionTime, pulmonaryPressureByTime, pressureHalfTime,
		tricuspidGradient, rvSystolicPressure, lvOutflowGradient, aorticValveGradient, aorticValveNetGradient, pulmonaryValveGradient,
		aorticIsthmusGradient, foramenOvaleGradient,
		mitralEToA, mitralEToLateral, mitralEToSeptal, tricuspidEToA,
		ductGradient, ductDiastolicGradient, ductPerKg, ductToPulmonaryArtery, systolicDiastolicRatio("duct", "ductus arteriosus"), descendingAortaRetrograde,
		venaCavaCollapsibility, venaCavaDistensibility, venaCavaVariation, venaCavaToAorta,
		frontalOccipitalRatio, frontalTemporalRatio, frontalHornRatio,
	},
	ofSides(diaphragms, diaphragmThickening), lungScores(), ofSides(organs, ellipsoidVolume),
	ofSides(taken, meanOfTakes),
	ofSides(vessels, resistiveIndex), ofSides(vessels, pulsatilityIndex),
	// Of the left pulmonary artery most studies measure the end of diastole alone: the other
	// two would stand there without a value.
	[]Definition{pulsatilityIndex("left-pulmonary-artery", "left pulmonary artery")},
	ofSides(vessels, systolicDiastolicRatio),
)

// IDs are the ids of all indices in order.
func IDs() []string {
	ids := make([]string, len(All))
	for i := range All {
		ids[i] = All[i].ID
	}
	return ids
}
