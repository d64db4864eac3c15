package checks

import "leadline/analyse"

// RegionOutsideImage is the finding region-outside-image: a calibrated region reaches outside its picture.
var RegionOutsideImage = analyse.Check{
	ID:    "region-outside-image",
	Title: "a calibrated region reaches outside its picture",
	Doc: "Region bounds are pixel indices within the picture (PS3.3 C.8.5.5.1.14). Bounds more than one pixel " +
		"outside mean that the picture was resampled after it was calibrated: every distance from it is wrong" +
		" by the same factor. Values are shown with the verdict suspect and used nowhere.",
	Advice:   "Export the original picture, or have the export keep the calibration with the size.",
	Severity: analyse.Error,
	OfDevice: true,
	Run:      eachImage(regionOutsideImage),
}

func regionOutsideImage(img *analyse.Image) string {
	return firstRegion(img, func(r *analyse.Region) string { return r.Suspect })
}
