package checks

import (
	"fmt"

	"leadline/analyse"
)

// RegionBoundExclusive is the finding region-bound-exclusive: a region bound is one pixel too far.
var RegionBoundExclusive = analyse.Check{
	ID:    "region-bound-exclusive",
	Title: "a region bound is one pixel too far",
	Doc: "Bounds are inclusive (PS3.3 C.8.5.5.1.14); this one is written as the first pixel outside. It harms " +
		"no value.",
	Advice:   "Nothing needs doing.",
	Severity: analyse.Note,
	OfDevice: true,
	Run:      eachImage(regionBoundExclusive),
}

func regionBoundExclusive(img *analyse.Image) string {
	return firstRegion(img, func(r *analyse.Region) string {
		x, y := r.Raw.MaxX1, r.Raw.MaxY1
		if r.Suspect != "" || !x.Set || !y.Set || img.Image.Columns == 0 || img.Image.Rows == 0 {
			return ""
		}
		if int(x.Value) == img.Image.Columns || int(y.Value) == img.Image.Rows {
			return fmt.Sprintf("the region ends at column %d, row %d of a picture of %d columns and %d rows", x.Value, y.Value, img.Image.Columns, img.Image.Rows)
		}
		return ""
	})
}
