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
		"is used (PS3.3 C.8.5.5 is the ultrasound calibration); they are never averaged. Said as well where it is a " +
		"factor of 10 (mm for cm), row and column spacing changed over (PS3.3 10.7.1.3: row first), or one factor both" +
		" ways, as after resampling.",
	Advice:   "Check the scale on a known distance; whoever reads this file by Pixel Spacing gets other numbers.",
	Severity: analyse.Warning,
	OfDevice: true,
	Run:      eachImage(spacingDisagrees),
}

// spacingTolerance is the design's: beyond 1 % the two are said to disagree.
const spacingTolerance = 0.01

// spacingDisagrees compares 2D regions only: Pixel Spacing has no meaning in a strip.
func spacingDisagrees(img *analyse.Image) string {
	spacing, ok := img.Image.Spacing.Pixel.Get()
	if !ok || spacing[0] <= 0 || spacing[1] <= 0 {
		return ""
	}
	return firstRegion(img, func(r *analyse.Region) string {
		if r.Raw.SpatialFormat.Value != ingest.Format2D || !r.MMPerPixelX.Set || !r.MMPerPixelY.Set {
			return ""
		}
		across, down := finite(r.MMPerPixelX.Value/spacing[1])-1, finite(r.MMPerPixelY.Value/spacing[0])-1
		if math.Max(math.Abs(across), math.Abs(down)) <= spacingTolerance {
			return ""
		}
		return fmt.Sprintf("the region's pixel is %+.1f %% across and %+.1f %% down against Pixel Spacing%s",
			finite(100*across), finite(100*down), spacingCause([2]float64{spacing[1], spacing[0]}, [2]float64{r.MMPerPixelX.Value, r.MMPerPixelY.Value}))
	})
}

// spacingCause names what would explain two pixel sizes, each across and down.
func spacingCause(spacing, region [2]float64) string {
	across, down := finite(region[0]/spacing[0]), finite(region[1]/spacing[1])
	same := func(v, want float64) bool { return near(v, want, spacingTolerance) }
	switch {
	case same(across, 10) && same(down, 10), same(across, 0.1) && same(down, 0.1):
		return ": a factor of 10, millimetres and centimetres confused"
	case same(region[0]/spacing[1], 1) && same(region[1]/spacing[0], 1):
		return ": row and column spacing are changed over"
	case same(across, down):
		return fmt.Sprintf(": one factor of %.3g both ways, as where the picture was resampled and one of them kept", across)
	}
	return ": not one factor, so no plain resampling"
}
