package checks

import (
	"fmt"

	"leadline/analyse"
)

// RulerOffersScale is the finding ruler-offers-scale: no scale in the header, a ruler in the picture.
var RulerOffersScale = analyse.Check{
	ID:    "ruler-offers-scale",
	Title: "no scale in the header, a ruler in the picture",
	Doc: "With `--pixels`. The header gives no scale, and the ruler in the picture does: an estimate of the size of a pixel along the" +
		" depth. It is offered here and in rulers.csv; no measurement is rebuilt with it. Across, nothing is known: pixels need not be square.",
	Advice:   "Look at the ruler before the estimate is used; ask why the header has no scale.",
	Severity: analyse.Note,
	OfDevice: true,
	Run:      eachImage(rulerOffersScale),
}

func rulerOffersScale(img *analyse.Image) string {
	if img.Ruler == nil || !img.Ruler.EstimatedMM.Set {
		return ""
	}
	r := img.Ruler
	return fmt.Sprintf("estimated %.4g ± %.2g mm to a pixel along the depth (k = 2), from %d ticks %.4g pixels apart; a step is taken for %.3g mm: %s",
		r.EstimatedMM.Value, coverage*r.EstimatedU.Value, r.Ticks, r.Pitch, r.StepMM, r.StepWhy)
}
