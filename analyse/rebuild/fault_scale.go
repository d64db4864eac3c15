package rebuild

import (
	"fmt"
	"math"

	"leadline/analyse"
	"leadline/analyse/physical"
)

// byImageScale: the picture was resampled after it was calibrated, and the number
// was taken before. The regions then end at a place that is the same part of the
// width and of the height: the corner of the picture as it was.
func byImageScale(d *differing) string {
	if d.plane.X.Unit == "" && d.plane.Y.Unit == "" || d.formula == nil || d.formula.absolute {
		return "" // the zero moves too, and where to is not known
	}
	kx, ky, ok := imageScale(d.img)
	if !ok {
		return ""
	}
	plane := d.plane
	plane.X.Delta, plane.Y.Delta = plane.X.Delta/kx, plane.Y.Delta/ky
	q, ok := d.on(plane, d.formula)
	if !ok {
		return ""
	}
	return fmt.Sprintf("%.4g %s, measured before the picture was scaled to %.4g times its size, which the bounds of its regions tell", q.Value, physical.Printed(q.Unit), kx)
}

// imageScale is how many times as large a picture is as one whose last column and
// row its regions reach. It is false where width and height do not tell the same
// within a pixel, or tell of no change.
func imageScale(img *analyse.Image) (kx, ky float64, ok bool) {
	right, bottom := 0.0, 0.0
	for i := range img.Regions {
		raw := img.Regions[i].Raw
		if raw.MaxX1.Set && raw.MaxY1.Set {
			right, bottom = math.Max(right, float64(raw.MaxX1.Value)+1), math.Max(bottom, float64(raw.MaxY1.Value)+1)
		}
	}
	columns, rows := float64(img.Image.Columns), float64(img.Image.Rows)
	if right < 1 || bottom < 1 || columns < 1 || rows < 1 {
		return 0, 0, false
	}
	kx, ky = columns/right, rows/bottom
	same := math.Abs(right*ky-columns) <= math.Max(1, ky) && math.Abs(bottom*kx-rows) <= math.Max(1, kx)
	changed := math.Abs(right-columns) > 1 && math.Abs(bottom-rows) > 1
	return kx, ky, same && changed
}

// bySpacingInstead: the number was taken by Pixel Spacing, which is not the scale
// of the region.
func bySpacingInstead(d *differing) string {
	spacing, ok := d.img.Image.Spacing.Pixel.Get()
	if !ok || d.source != analyse.CalibrationRegion {
		return ""
	}
	plane, ok := physical.SpacingPlane(spacing)
	if !ok {
		return ""
	}
	q, ok := d.on(plane, d.counterpart(plane))
	if !ok {
		return ""
	}
	return fmt.Sprintf("%.4g %s by Pixel Spacing, whose scale is %.4g times that of region %d", q.Value, physical.Printed(q.Unit),
		math.Abs(plane.Y.Delta/d.plane.Y.Delta), d.region)
}

// bySwappedAxes: the spacing of rows was taken for that of columns.
func bySwappedAxes(d *differing) string {
	plane := d.plane
	if plane.X.Unit != plane.Y.Unit {
		return ""
	}
	plane.X.Delta, plane.Y.Delta = plane.Y.Delta, plane.X.Delta
	q, ok := d.on(plane, d.formula)
	if !ok {
		return ""
	}
	return fmt.Sprintf("%.4g %s, by the spacing of rows taken for that of columns and the other way round", q.Value, physical.Printed(q.Unit))
}
