package pictures

import (
	"slices"

	"leadline/analyse"
	"leadline/analyse/ruler"
	"leadline/ingest"
	"leadline/ingest/pixels"
)

// scanned lists the 2D regions whose depth has a scale, the tallest first.
func scanned(img *analyse.Image) []*analyse.Region {
	var out []*analyse.Region
	for i := range img.Regions {
		r := &img.Regions[i]
		if r.Raw.SpatialFormat.Value == ingest.Format2D && r.MMPerPixelY.Set && isScale(r.MMPerPixelY.Value) {
			out = append(out, r)
		}
	}
	slices.SortStableFunc(out, func(a, b *analyse.Region) int { return height(b) - height(a) })
	return out
}

// isScale tells a size of a pixel in mm with which numbers stay numbers.
func isScale(mm float64) bool { return mm > 1e-9 && mm < 1e9 }

func height(r *analyse.Region) int {
	b := box(r)
	return b.Y1 - b.Y0
}

// box is the bounds of a region; empty where they are not all there or make none.
func box(r *analyse.Region) ruler.Box {
	raw := r.Raw
	if !raw.MinX0.Set || !raw.MinY0.Set || !raw.MaxX1.Set || !raw.MaxY1.Set ||
		raw.MaxX1.Value < raw.MinX0.Value || raw.MaxY1.Value < raw.MinY0.Value {
		return ruler.Box{}
	}
	return ruler.Box{X0: int(raw.MinX0.Value), Y0: int(raw.MinY0.Value), X1: int(raw.MaxX1.Value) + 1, Y1: int(raw.MaxY1.Value) + 1}
}

// stripModes are the modes whose pictures hold a strip with marks of its own.
var stripModes = []string{"m-mode", "colour-m-mode", "pw", "cw"}

// describe is what the search is told of a picture. It is false where a strip stands
// beside the picture and the bounds that would tell them apart do not fit.
func describe(img *analyse.Image, frame *pixels.Frame) (*ruler.Picture, bool) {
	p := &ruler.Picture{Columns: frame.Columns, Rows: frame.Rows, Grey: frame.Brightness()}
	for _, mode := range stripModes {
		p.Strips = p.Strips || slices.Contains(img.Modes, mode)
	}
	for i, r := range scanned(img) {
		if i == 0 && r.Suspect == "" {
			p.Box = box(r)
		}
		p.ScalesPerCM = append(p.ScalesPerCM, perCM(r))
	}
	if spacing, ok := spacingOf(img); ok && len(p.ScalesPerCM) == 0 {
		p.ScalesPerCM = []float64{spacing}
	}
	if img.DepthMM.Value > 0 {
		p.DepthMM = img.DepthMM.Value
	}
	return p, !p.Strips || p.Box != ruler.Box{}
}

func perCM(r *analyse.Region) float64 { return 10 / r.MMPerPixelY.Value }

// spacingOf is the scale of Pixel Spacing down the rows, whose first value is that
// (PS3.3 10.7.1.3).
func spacingOf(img *analyse.Image) (perCM float64, ok bool) {
	spacing, ok := img.Image.Spacing.Pixel.Get()
	if !ok || !isScale(spacing[0]) {
		return 0, false
	}
	return 10 / spacing[0], true
}
