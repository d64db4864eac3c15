package checks

import (
	"math"

	"leadline/analyse"
	"leadline/ingest"
)

// What several checks ask of one region: its size in pixels, what its axes span,
// and where zero lies on them. Nothing here judges.

// extent is the number of pixels of an axis. It is false where a bound is missing
// or the axis holds no more than one pixel, over which nothing can be measured.
func extent(low, high ingest.Optional[ingest.Index]) (float64, bool) {
	if !low.Set || !high.Set || high.Value <= low.Value {
		return 0, false
	}
	return float64(high.Value-low.Value) + 1, true
}

// spanX and spanY are what an axis of the given unit spans from its first to its
// last pixel edge, in that unit and without sign.
func spanX(r *ingest.Region, unit uint16) (float64, bool) {
	n, ok := extent(r.MinX0, r.MaxX1)
	return spanOf(n, ok, r.UnitsX, r.DeltaX, unit)
}

func spanY(r *ingest.Region, unit uint16) (float64, bool) {
	n, ok := extent(r.MinY0, r.MaxY1)
	return spanOf(n, ok, r.UnitsY, r.DeltaY, unit)
}

func spanOf(pixels float64, ok bool, has ingest.Optional[uint16], delta ingest.Optional[float64], unit uint16) (float64, bool) {
	if !ok || !has.Set || has.Value != unit || delta.Value == 0 {
		return 0, false
	}
	return finite(pixels * math.Abs(delta.Value)), true
}

// zeroRow is the row of the picture, as a continuous pixel index, on which the
// vertical axis is 0 (PS3.3 C.8.5.5.1.16 and .17). It is false without a reference
// pixel. A reference value that is absent is 0, which the standard implies for
// strips (shared reference dicom-ultrasound.md, 1.6).
func zeroRow(r *ingest.Region) (float64, bool) {
	if !r.RefY0.Set || !r.MinY0.Set || r.DeltaY.Value == 0 {
		return 0, false
	}
	return float64(r.MinY0.Value+r.RefY0.Value) - r.RefValueY.Value/r.DeltaY.Value, true
}

// depths are the depths in cm of the upper and the lower edge of a region whose
// vertical axis is a length that grows downward.
func depths(r *ingest.Region) (top, bottom float64, ok bool) {
	zero, known := zeroRow(r)
	if _, ok := spanY(r, ingest.UnitCM); !ok || !known || r.DeltaY.Value < 0 {
		return 0, 0, false
	}
	top = (float64(r.MinY0.Value) - zero) * r.DeltaY.Value
	return top, (float64(r.MaxY1.Value) + 1 - zero) * r.DeltaY.Value, true
}

// finite keeps a product or quotient of what a file says, however absurd, a number.
func finite(v float64) float64 { return math.Max(math.Min(v, math.MaxFloat64), -math.MaxFloat64) }

// is tells whether a region has a spatial format.
func is(r *ingest.Region, format uint16) bool {
	return r.SpatialFormat.Set && r.SpatialFormat.Value == format
}

// near tells whether two lengths, times or factors agree within a fraction of the
// second.
func near(a, b, fraction float64) bool { return math.Abs(a-b) <= fraction*math.Abs(b) }

// tallest is the span in cm of the 2D region that shows most depth.
func tallest(img *analyse.Image) (*ingest.Region, float64) {
	var best *ingest.Region
	most := 0.0
	for i := range img.Regions {
		r := img.Regions[i].Raw
		if span, ok := spanY(r, ingest.UnitCM); ok && is(r, ingest.Format2D) && span > most {
			best, most = r, span
		}
	}
	return best, most
}
