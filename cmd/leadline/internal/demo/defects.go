package demo

// defect is one thing that goes wrong in archives, planted into a study of its
// kind. plant changes the study and says, by expect, what an audit must find.
type defect struct {
	name  string
	kind  kind
	plant func(*study)
}

// defectList is in the order in which a generated archive goes through them.
var defectList = []defect{
	{"value-off", vessels, valueOff},
	{"missing-view", heart, missingView},
	{"resampled", head, resampled},
	{"no-timing", lung, noTiming},
	{"unit-mixed", head, unitMixed},
	{"clip-short", heart, clipShort},
	{"calibration-stripped", vessels, calibrationStripped},
	{"cine-contradicts", lung, cineContradicts},
	{"spacing-off", vessels, spacingOff},
	{"missing-measure", heart, missingMeasure},
	{"regions-overlap", head, regionsOverlap},
	{"weight-grams", lung, weightGrams},
	{"spectrum-up", vessels, spectrumUp},
	{"report-partial", heart, reportPartial},
	{"no-zero", head, noZero},
	{"burned-in-only", lung, burnedInOnly},
	{"image-missing", vessels, imageMissing},
	{"across-regions", heart, acrossRegions},
	{"unit-one", head, unitOneLength},
	{"pixels-cut", lung, pixelsCut},
	{"no-value", vessels, noValue},
	{"report-late", heart, reportLate},
	{"two-patients", head, twoPatients},
	{"header-cut", lung, headerCut},
	{"no-extent", vessels, noExtent},
	{"caliper-outside", heart, caliperOutside},
	{"bound-exclusive", vessels, boundExclusive},
	{"header-comma", lung, headerComma},
	{"region-unscaled", lung, regionUnscaled},
	{"copy", lung, duplicate},
	{"clash", head, clash},
	{"table-off", heart, tableOff},
	{"weight-grams-heart", heart, weightGramsHeart},
	{"untimed-heart", heart, untimedHeart},
	{"sequence-lost", vessels, sequenceLost},
	{"media-incomplete", head, mediaIncomplete},
	{"trace-empty", lung, traceEmpty},
	{"trace-backward", lung, traceBackward},
	{"trace-endless", lung, traceEndless},
	{"trace-in-cm", lung, traceInCM},
	{"trace-elsewhere", lung, traceElsewhere},
	{"millimetres", lung, millimetres},
	{"stretched", lung, stretched},
	{"wrapped", lung, wrapped},
	{"strip-deep", lung, stripDeep},
	{"depth-off", head, depthOff},
	{"pulses-few", vessels, pulsesFew},
	{"scale-flag", vessels, scaleFlag},
	{"frame-time-zero", lung, frameTimeZero},
	{"lossy-twice", lung, lossyTwice},
	{"made-afterwards", vessels, madeAfterwards},
	{"burned-in-unknown", head, burnedInUnknown},
	{"views-unsaid", vessels, viewsUnsaid},
	{"label-slip", head, labelSlip},
	{"view-in-report", heart, viewInReport},
	{"view-in-annotation", head, viewInAnnotation},
	{"ruler-off", lung, rulerOff},
	{"clock-behind", vessels, clockBehind},
	{"continued-next-day", head, continuedNextDay},
	{"made-before-taken", lung, madeBeforeTaken},
	{"report-before", vessels, reportBefore},
	{"born-later", vessels, bornLater},
	{"two-clocks", head, twoClocks},
	{"clock-set-back", lung, clockSetBack},
	{"clock-next-year", lung, clockNextYear},
	{"index-mechanical", lung, indexMechanical},
	{"index-thermal", head, indexThermal},
	{"biplane-off", heart, biplaneOff},
	{"index-absurd", lung, indexAbsurd},
}

// DefectKinds is how many kinds of defect an archive goes through. With three times
// as many studies each comes up once.
func DefectKinds() int { return len(defectList) }

var defects = func() map[string]defect {
	byName := map[string]defect{}
	for _, d := range defectList {
		byName[d.name] = d
	}
	return byName
}()
