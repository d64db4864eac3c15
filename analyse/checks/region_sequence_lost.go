package checks

import "leadline/analyse"

// RegionSequenceLost is the finding region-sequence-lost: region calibration lies outside its sequence.
var RegionSequenceLost = analyse.Check{
	ID:    "region-sequence-lost",
	Title: "region calibration lies outside its sequence",
	Doc: "Elements of a region stand in the file, and the tag that should hold them (0018,6011) is lost. Where" +
		" they belong cannot be told for certain, so they calibrate nothing.",
	Advice:   "Export the image again by another route.",
	Severity: analyse.Warning,
	OfDevice: true,
	Run:      eachImage(regionSequenceLost),
}

func regionSequenceLost(img *analyse.Image) string {
	if img.Image.RegionsBare {
		return "elements of an ultrasound region lie bare in the file; they are not used"
	}
	return ""
}
