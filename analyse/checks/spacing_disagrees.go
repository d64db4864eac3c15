package checks

import (
	"fmt"
	"math"

	"leadline/analyse"
	"leadline/ingest"
)

// SpacingDisagrees is the finding spacing-disagrees: Pixel Spacing and region disagree.
var SpacingDisagrees = analyse.Check{
	ID:    "spacing-disagrees",
	Title: "Pixel Spacing and region disagree",
	Doc: "The picture has two scales, Pixel Spacing and a 2D region, that differ by more than 1 %. The region " +
		"is used (PS3.3 C.8.5.5 is the ultrasound calibration); they are never averaged.",
	Advice:   "Check the scale on a known distance; whoever reads this file by Pixel Spacing gets other numbers.",
	Severity: analyse.Warning,
	Run:      eachImage(spacingDisagrees),
}

// spacingTolerance is the design's: beyond 1 % the two are said to disagree.
const spacingTolerance = 0.01

// spacingDisagrees compares 2D regions only: Pixel Spacing has no meaning in a strip.
func spacingDisagrees(img *analyse.Image) string {
	spacing, ok := img.Image.Spacing.Pixel.Get()
	if !ok {
		return ""
	}
	return firstRegion(img, func(r *analyse.Region) string {
		if r.Raw.SpatialFormat.Value != ingest.Format2D || !r.MMPerPixelX.Set || !r.MMPerPixelY.Set {
			return ""
		}
		across, down := r.MMPerPixelX.Value/spacing[1]-1, r.MMPerPixelY.Value/spacing[0]-1
		if math.Max(math.Abs(across), math.Abs(down)) <= spacingTolerance {
			return ""
		}
		return fmt.Sprintf("the region's pixel is %+.1f %% across and %+.1f %% down against Pixel Spacing", 100*across, 100*down)
	})
}
