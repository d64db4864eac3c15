package checks

import (
	"fmt"
	"math"

	"leadline/analyse"
	"leadline/ingest"
)

// ScanDepthDisagrees is the finding scan-depth-disagrees: stated depth and height of the picture disagree.
var ScanDepthDisagrees = analyse.Check{
	ID:    "scan-depth-disagrees",
	Title: "stated depth and height of the picture disagree",
	Doc: "Depth of Scan Field (0018,5050) is how deep the picture goes, in mm (PS3.3 C.8.5.6). No 2D region, height times" +
		" Physical Delta Y, shows that depth: all are less deep by more than 5 % and 5 mm, or deeper by more than 20 %" +
		" (common practice, no source: depths are shown in half or whole centimetres, and regions are drawn with a" +
		" margin). One of the two is wrong: a picture resampled after calibration looks like this. Enlarged pictures, which begin deeper, are not judged.",
	Advice:   "Compare the depth marks in the picture with the depth the device shows.",
	Severity: analyse.Note,
	OfDevice: true,
	Run:      eachImage(scanDepthDisagrees),
}

// How far depths may lie apart: common practice, no source. A region may be drawn with
// a margin around the picture, so it may be taller than the picture is deep.
const depthTolerance, depthToleranceMM, marginTolerance = 0.05, 5, 0.2

func scanDepthDisagrees(img *analyse.Image) string {
	stated := img.DepthMM.Value
	if !img.DepthMM.Set || stated <= 0 {
		return ""
	}
	if r, _ := tallest(img); r == nil {
		return ""
	}
	shown := 0.0
	for i := range img.Regions {
		r := img.Regions[i].Raw
		span, ok := spanY(r, ingest.UnitCM)
		if !ok || !is(r, ingest.Format2D) {
			continue
		}
		top, bottom, known := depths(r)
		if fitsDepth(finite(10*span), stated) || known && (fitsDepth(10*bottom, stated) || analyse.Enlarged(top, span)) {
			return ""
		}
		shown = math.Max(shown, finite(10*span))
	}
	return fmt.Sprintf("Depth of Scan Field is %.4g mm, the tallest 2D region shows %.4g mm, %.3g times as much", stated, shown, finite(shown/stated))
}

func fitsDepth(mm, stated float64) bool {
	return stated-mm <= math.Max(depthTolerance*stated, depthToleranceMM) &&
		mm-stated <= math.Max(marginTolerance*stated, depthToleranceMM)
}
