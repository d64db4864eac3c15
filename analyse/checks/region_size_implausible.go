package checks

import (
	"fmt"
	"math"

	"leadline/analyse"
	"leadline/ingest"
)

// RegionSizeImplausible is the finding region-size-implausible: a region spans what no device shows.
var RegionSizeImplausible = analyse.Check{
	ID:    "region-size-implausible",
	Title: "a region spans what no device shows",
	Doc: "Delta times the height of the region gives a depth outside 0.5 to 40 cm, a width above 60 cm or a velocity " +
		"range outside 2 to 2000 cm/s (bounds: common practice, no source; they hold for any probe and patient). " +
		"The delta is in another unit than the header says, or the picture was enlarged or reduced and only one of" +
		" the two numbers corrected (PS3.3 C.8.5.5.1.15 and .17).",
	Advice:   "Do not measure on this image before its scale was checked against the marks in the picture.",
	Severity: analyse.Warning,
	OfDevice: true,
	Run:      eachImage(regionSizeImplausible),
}

// What a region can span, in cm and cm/s: common practice, no source. The least
// depth is that of skin and eye probes, the most beyond that of abdominal probes for
// adults (about 30); the width allows for pictures put together along a limb. The
// velocities go from slow veins and tissue to beyond the fastest jets (8 m/s), both
// sides of the baseline.
const (
	leastDepthCM, mostDepthCM         = 0.5, 40
	mostWidthCM                       = 60
	leastRangeCMPerS, mostRangeCMPerS = 2, 2000
)

func regionSizeImplausible(img *analyse.Image) string {
	return firstRegion(img, func(r *analyse.Region) string {
		raw := r.Raw
		if v, ok := spanY(raw, ingest.UnitCMPerS); ok && is(raw, ingest.FormatSpectral) && (v < leastRangeCMPerS || v > mostRangeCMPerS) {
			return fmt.Sprintf("a velocity range of %.3g cm/s (Physical Delta Y %.4g cm/s)", v, raw.DeltaY.Value)
		}
		if !is(raw, ingest.Format2D) && !is(raw, ingest.FormatMMode) {
			return ""
		}
		if cm, ok := spanY(raw, ingest.UnitCM); ok && (cm < leastDepthCM || cm > mostDepthCM) {
			return fmt.Sprintf("%.3g cm deep (Physical Delta Y %.4g cm)%s", cm, raw.DeltaY.Value, otherDelta(raw))
		}
		if cm, ok := spanX(raw, ingest.UnitCM); ok && cm > mostWidthCM {
			return fmt.Sprintf("%.3g cm wide (Physical Delta X %.4g cm)%s", cm, raw.DeltaX.Value, otherDelta(raw))
		}
		return ""
	})
}

// otherDelta adds the pixel size that the reference pixel and its value would fit,
// where both axes name the same one and the deltas another: real files count them
// from the corner of the region, and were scaled in one place only.
func otherDelta(r *ingest.Region) string {
	if r.RefX0.Value == 0 || r.RefY0.Value == 0 || r.RefValueX.Value == 0 || r.RefValueY.Value == 0 {
		return ""
	}
	x := math.Abs(r.RefValueX.Value / float64(r.RefX0.Value))
	y := math.Abs(r.RefValueY.Value / float64(r.RefY0.Value))
	if !near(x, y, spacingTolerance) || near(y, math.Abs(r.DeltaY.Value), spacingTolerance) {
		return ""
	}
	return fmt.Sprintf("; its reference pixel and the value there would fit %.4g cm a pixel on both axes", y)
}
