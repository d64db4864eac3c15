package checks

import "leadline/analyse"

// CalibrationMissing is the finding calibration-missing: an ultrasound picture has no scale.
var CalibrationMissing = analyse.Check{
	ID:    "calibration-missing",
	Title: "an ultrasound picture has no scale",
	Doc: "Neither a calibrated region (PS3.3 C.8.5.5) nor Pixel Spacing stands in the header. The module is " +
		"optional, so the file is legal; nothing can be measured on it.",
	Advice:   "See whether the export strips it: look at the same picture on the device.",
	Severity: analyse.Warning,
	OfDevice: true,
	Run:      eachImage(calibrationMissing),
}

// calibrationMissing judges ultrasound only; secondary captures and other modalities are not
// promised a region.
func calibrationMissing(img *analyse.Image) string {
	if img.StatedUltrasound() && img.Calibration == string(analyse.CalibrationNone) {
		return "no calibrated region and no Pixel Spacing"
	}
	return ""
}
