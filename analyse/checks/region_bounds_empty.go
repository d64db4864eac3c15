package checks

import (
	"fmt"

	"leadline/analyse"
)

// RegionBoundsEmpty is the finding region-bounds-empty: a calibrated region has no extent.
var RegionBoundsEmpty = analyse.Check{
	ID:    "region-bounds-empty",
	Title: "a calibrated region has no extent",
	Doc: "The bounds of a region with a scale are the wrong way round, or hold a single column or row (Min X0 to " +
		"Max Y1, PS3.3 C.8.5.5.1.14, both ends included). No caliper fits into it, so its scale serves nothing.",
	Advice:   "Measure on another image; ask the maker which part of the picture was meant.",
	Severity: analyse.Warning,
	OfDevice: true,
	Run:      eachImage(regionBoundsEmpty),
}

// regionBoundsEmpty judges regions with a scale only: bars and labels may be of any size.
func regionBoundsEmpty(img *analyse.Image) string {
	return firstRegion(img, func(r *analyse.Region) string {
		raw := r.Raw
		if !r.Calibrated || !raw.MinX0.Set || !raw.MaxX1.Set || !raw.MinY0.Set || !raw.MaxY1.Set {
			return ""
		}
		across, down := raw.MaxX1.Value-raw.MinX0.Value, raw.MaxY1.Value-raw.MinY0.Value
		if across > 0 && down > 0 {
			return ""
		}
		what := "hold no more than one column or row"
		if across < 0 || down < 0 {
			what = "are the wrong way round"
		}
		return fmt.Sprintf("its bounds %s: columns %d to %d, rows %d to %d",
			what, raw.MinX0.Value, raw.MaxX1.Value, raw.MinY0.Value, raw.MaxY1.Value)
	})
}
