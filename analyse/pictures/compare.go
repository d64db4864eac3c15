package pictures

import (
	"fmt"
	"math"
	"slices"

	"leadline/analyse"
	"leadline/analyse/ruler"
	"leadline/ingest"
)

// oneScale is the design's: beyond 1 % two scales are said to disagree.
const oneScale = 0.01

// compare holds the ruler against the header. An image may share what follows from its
// header with others, whose pictures are not the same: it gets a copy of its own before
// anything is written.
func compare(img *analyse.Image) {
	own := *img.Picture
	own.Regions = slices.Clone(own.Regions)
	img.Picture = &own
	value, u, ok := img.Ruler.PerCM()
	regions := scanned(img)
	switch spacing, spaced := spacingOf(img); {
	case len(regions) > 0:
		img.Ruler.HeaderPerCM, img.Ruler.From = ingest.Some(perCM(regions[0])), analyse.CalibrationRegion
	case spaced:
		img.Ruler.HeaderPerCM, img.Ruler.From = ingest.Some(spacing), analyse.CalibrationSpacing
	case ok:
		img.Ruler.EstimatedMM, img.Ruler.EstimatedU = ingest.Some(10/value), ingest.Some(10*u/value/value)
	}
	if header := img.Ruler.HeaderPerCM; ok && header.Set {
		img.Ruler.Ratio, img.Ruler.U = ingest.Some(value/header.Value), ingest.Some(u/header.Value)
	}
	for _, r := range regions {
		if of(r, regions[0]) {
			note(r, img.Ruler, value, ok)
		}
	}
}

// note fills the region's column, or says why it is empty.
func note(r *analyse.Region, found *analyse.Ruler, value float64, ok bool) {
	words := ""
	switch {
	case ok:
		r.RulerRatio = ingest.Some(value / perCM(r))
	case found.Status == ruler.UnknownStep:
		words = "ruler: " + found.Note + "; " + found.Modulo(perCM(r))
	default:
		words = fmt.Sprintf("ruler: %s", found.Note)
	}
	if r.Note != "" && words != "" {
		words = r.Note + "; " + words
	}
	if words != "" {
		r.Note = words
	}
}

// of tells that a region belongs to the picture whose ruler was read: it has the scale
// of the main region, or lies over it.
func of(r, main *analyse.Region) bool {
	if math.Abs(perCM(r)/perCM(main)-1) <= oneScale {
		return true
	}
	a, b := box(r), box(main)
	across := min(a.X1, b.X1) - max(a.X0, b.X0)
	down := min(a.Y1, b.Y1) - max(a.Y0, b.Y0)
	return across > 0 && down > 0 && 2*across >= a.X1-a.X0 && 2*down >= a.Y1-a.Y0
}
