package checks

import (
	"leadline/analyse"
	"leadline/ingest"
)

// RegionIncomplete is the finding region-incomplete: a region has a unit and no scale.
var RegionIncomplete = analyse.Check{
	ID:    "region-incomplete",
	Title: "a region has a unit and no scale",
	Doc: "A region names a physical unit for an axis and gives no delta for it, or zero (PS3.3 Table C.8-17 " +
		"makes both type 1). Nothing can be measured along that axis. Unit none with delta 0 is no defect.",
	Advice:   "Measure on another image; ask the maker.",
	Severity: analyse.Warning,
	OfDevice: true,
	Run:      eachImage(regionIncomplete),
}

func regionIncomplete(img *analyse.Image) string {
	return firstRegion(img, func(r *analyse.Region) string {
		raw := r.Raw
		switch {
		case unscaled(raw.UnitsX, raw.DeltaX):
			return "the horizontal axis has the unit " + r.UnitsX + " and no usable delta"
		case unscaled(raw.UnitsY, raw.DeltaY):
			return "the vertical axis has the unit " + r.UnitsY + " and no usable delta"
		case r.Calibrated && !(raw.MinX0.Set && raw.MinY0.Set && raw.MaxX1.Set && raw.MaxY1.Set):
			return "the region has a scale and no complete bounds"
		}
		return ""
	})
}

// unscaled tells an axis whose unit is physical and whose delta is missing or
// zero. An amplitude axis of a physiological trace has the unit none.
func unscaled(unit ingest.Optional[uint16], delta ingest.Optional[float64]) bool {
	return unit.Set && unit.Value != ingest.UnitNone && (!delta.Set || delta.Value == 0)
}
