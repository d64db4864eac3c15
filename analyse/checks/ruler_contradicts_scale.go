package checks

import (
	"fmt"
	"math"

	"leadline/analyse"
)

// RulerContradictsScale is the finding ruler-contradicts-scale: ruler in the picture and scale of the header disagree.
var RulerContradictsScale = analyse.Check{
	ID:    "ruler-contradicts-scale",
	Title: "ruler in the picture and scale of the header disagree",
	Doc: "With `--pixels`. Over the length of its ruler the picture shows another depth than the scale of the header makes of it," +
		" by more than 1.5 mm or 1.5 %, whichever is larger, and more than the expanded uncertainty (k = 2) of the ruler. The limit is" +
		" the action level for distances along the beam (Goodsitt et al. 1998, AAPM Ultrasound Task Group 1; numbers second-hand)." +
		" A picture resampled after its calibration looks like this, and so does a scale of another depth or probe.",
	Advice:   "Measure on the picture itself, by its ruler, what was measured by the header; find the export that changes size.",
	Severity: analyse.Warning,
	OfDevice: true,
	Run:      eachImage(rulerContradictsScale),
}

// The action level along the beam: see the check.
const rulerActionMM, rulerActionShare = 1.5, 0.015

// coverage is the factor k of expanded uncertainties, which the design sets.
const coverage = 2

func rulerContradictsScale(img *analyse.Image) string {
	if img.Ruler == nil || !img.Ruler.Ratio.Set {
		return ""
	}
	ratio, u := img.Ruler.Ratio.Value, img.Ruler.U.Value
	span := img.Ruler.SpanMM()
	limit := math.Max(rulerActionMM/span, rulerActionShare)
	if math.Abs(ratio-1) <= limit+coverage*u {
		return ""
	}
	value, uValue, _ := img.Ruler.PerCM()
	return fmt.Sprintf("the ruler has %.4g ± %.2g pixels to a centimetre, the header (%s) %.4g: ruler ÷ header %.4g; over the %.4g mm of the ruler the header makes %.4g mm",
		value, coverage*uValue, img.Ruler.From, img.Ruler.HeaderPerCM.Value, ratio, span, finite(span*ratio))
}
