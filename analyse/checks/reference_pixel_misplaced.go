package checks

import (
	"fmt"
	"math"

	"leadline/analyse"
	"leadline/ingest"
)

// ReferencePixelMisplaced is the finding reference-pixel-misplaced: the reference pixel is where it cannot be.
var ReferencePixelMisplaced = analyse.Check{
	ID:    "reference-pixel-misplaced",
	Title: "the reference pixel is where it cannot be",
	Doc: "Reference Pixel X0 and Y0 count from the corner of the region (PS3.3 C.8.5.5.1.16). Here they are far outside " +
		"the picture (a negative number read as 16 bits without sign), or fit only when counted from the corner of" +
		" the picture, or put depth 0 below the picture (above it where Physical Delta Y is negative) or the Doppler baseline outside the strip. Differences" +
		" stand; depths and velocities at a point do not. Of traces, trace-reference-misplaced speaks.",
	Advice:   "Read distances and durations; read a depth or a velocity at a point off the picture.",
	Severity: analyse.Warning,
	OfDevice: true,
	Run:      eachImage(func(img *analyse.Image) string { return misplaced(img, false) }),
}

// farPictures is how many picture sizes away a reference pixel can be: enlarged
// pictures have the probe outside, and not ten pictures off (common practice, no
// source).
const farPictures = 10

// The numbers that a negative 16-bit number becomes when its sign is lost.
const firstWrapped, lastWrapped = 1 << 15, 1<<16 - 1

// misplaced judges the reference pixels of traces, or of all other regions.
func misplaced(img *analyse.Image, traces bool) string {
	reach := ingest.Index(farPictures * max(img.Image.Columns, img.Image.Rows))
	return firstRegion(img, func(r *analyse.Region) string {
		raw := r.Raw
		if is(raw, ingest.FormatWaveform) != traces || !r.Calibrated || !raw.RefX0.Set || !raw.RefY0.Set || !raw.MinX0.Set || !raw.MinY0.Set {
			return ""
		}
		x, y := raw.RefX0.Value, raw.RefY0.Value
		switch {
		case reach > 0 && (beyondReach(x, reach) || beyondReach(y, reach)):
			return fmt.Sprintf("Reference Pixel %d, %d lies far outside the picture%s", x, y, unwrapped(x, y))
		case absolute(raw):
			return fmt.Sprintf("Reference Pixel %d, %d fits only when counted from the corner of the picture; it counts from the region's corner %d, %d",
				x, y, raw.MinX0.Value, raw.MinY0.Value)
		case strip(raw) && x == -raw.MinX0.Value && y == -raw.MinY0.Value && (x != 0 || y != 0):
			return fmt.Sprintf("Reference Pixel %d, %d is the first pixel of the picture, outside the strip", x, y)
		}
		return zeroMisplaced(raw)
	})
}

func beyondReach(v, reach ingest.Index) bool { return v > reach || v < -reach }

func unwrapped(x, y ingest.Index) string {
	for _, v := range []ingest.Index{x, y} {
		if v >= firstWrapped && v <= lastWrapped {
			return fmt.Sprintf("; %d is %d with its sign lost", v, v-lastWrapped-1)
		}
	}
	return ""
}

// strip tells a region whose horizontal axis is time.
func strip(r *ingest.Region) bool { return r.UnitsX.Set && r.UnitsX.Value == ingest.UnitSecond }

// absolute tells that a reference pixel was counted from the corner of the picture.
// In a strip it then lies inside, and outside when counted as the standard says. In
// a 2D picture, where the probe is shown, it then lies on the middle of the upper
// edge to the pixel, and away from it otherwise.
func absolute(r *ingest.Region) bool {
	left, right, top, bottom := r.MinX0.Value, r.MaxX1.Value, r.MinY0.Value, r.MaxY1.Value
	x, y := r.RefX0.Value, r.RefY0.Value
	if right <= left || bottom <= top {
		return false
	}
	if strip(r) {
		inside := func(x, y ingest.Index) bool { return x >= left && x <= right && y >= top && y <= bottom }
		return inside(x, y) && !inside(left+x, top+y)
	}
	middle := func(x ingest.Index) bool { off := 2*x - left - right; return off >= -2 && off <= 2 }
	return is(r, ingest.Format2D) && top > 2 && y >= top-1 && y <= top+1 && middle(x) && !middle(left+x)
}

// zeroMisplaced says where the vertical axis has its zero, if it cannot be there. A
// row more or less is rounding.
func zeroMisplaced(r *ingest.Region) string {
	zero, ok := zeroRow(r)
	if _, tall := extent(r.MinY0, r.MaxY1); !ok || !tall || math.IsInf(zero, 0) || math.IsNaN(zero) {
		return ""
	}
	top, bottom := float64(r.MinY0.Value), float64(r.MaxY1.Value)
	switch {
	case is(r, ingest.FormatSpectral) && (zero < top-1 || zero > bottom+1):
		return fmt.Sprintf("the Doppler baseline would be row %.4g, outside the strip's rows %.0f to %.0f", zero, top, bottom)
	case r.UnitsY.Value == ingest.UnitCM && r.DeltaY.Value > 0 && !is(r, ingest.FormatSpectral) && zero > bottom+1:
		return fmt.Sprintf("depth 0 would be row %.4g, below the region's last row %.0f", zero, bottom)
	case r.UnitsY.Value == ingest.UnitCM && r.DeltaY.Value < 0 && !is(r, ingest.FormatSpectral) && zero < top+1:
		return fmt.Sprintf("depth 0 would be row %.4g, at or above the region's first row %.0f, and Physical Delta Y is negative: every depth would be negative", zero, top)
	}
	return ""
}
