package checks

import (
	"fmt"

	"leadline/analyse"
)

// PixelShapeUnexplained is the finding pixel-shape-unexplained: the header contradicts itself on square pixels.
var PixelShapeUnexplained = analyse.Check{
	ID:    "pixel-shape-unexplained",
	Title: "the header contradicts itself on square pixels",
	Doc: "The deltas of a 2D region say that pixels are not square, or are, and Pixel Aspect Ratio (0028,0034) says " +
		"otherwise. It must stand in the file where pixels are not square (PS3.3 C.7.6.3, C.7.6.3.1.7), so a picture" +
		" that was stretched, or one delta that is wrong, looks like this; lengths across or down are then wrong." +
		" Where Pixel Spacing stands in the file, spacing-disagrees compares it.",
	Advice:   "Measure something round, or the same thing across and down, before trusting lengths.",
	Severity: analyse.Warning,
	OfDevice: true,
	Run:      eachImage(pixelShapeUnexplained),
}

// shapeTolerance is that of two scales, the design's 1 %: rounded deltas are closer.
const shapeTolerance = spacingTolerance

func pixelShapeUnexplained(img *analyse.Image) string {
	if img.Image.Spacing.Pixel.Set {
		return ""
	}
	stated, source := 1.0, "there is no Pixel Aspect Ratio, which means square pixels"
	if ratio, ok := img.Image.Spacing.AspectRatio.Get(); ok {
		if ratio[0] <= 0 || ratio[1] <= 0 {
			return ""
		}
		stated = float64(ratio[0]) / float64(ratio[1])
		source = fmt.Sprintf("Pixel Aspect Ratio says %.3f times", stated)
	}
	return firstRegion(img, func(r *analyse.Region) string {
		if !flat(r) {
			return ""
		}
		shape := finite(r.MMPerPixelY.Value / r.MMPerPixelX.Value)
		if near(shape, stated, shapeTolerance) {
			return ""
		}
		swapped := ""
		if near(shape, 1/stated, shapeTolerance) {
			swapped = ", the two numbers the other way round"
		}
		return fmt.Sprintf("by the deltas a pixel is %.4g times as high as wide; %s%s", shape, source, swapped)
	})
}
