package assemble

import (
	"fmt"
	"math"

	"leadline/analyse"
	"leadline/ingest"
)

// formatWords and dataWords are the defined terms of PS3.3 C.8.5.5.1.1 and
// C.8.5.5.1.2, unitWords those of C.8.5.5.1.15.
var (
	formatWords = []string{"none", "2D", "M-mode", "spectral", "waveform", "graphics"}
	dataWords   = []string{
		"none", "tissue", "colour flow", "PW spectral Doppler", "CW spectral Doppler", "Doppler mean trace",
		"Doppler mode trace", "Doppler max trace", "volume trace", "d(volume)/dt trace", "ECG trace", "pulse trace",
		"phonocardiogram trace", "grey bar", "colour bar", "integrated backscatter", "area trace", "d(area)/dt trace",
		"other physiological",
	}
	unitWords = []string{"none", "percent", "dB", "cm", "s", "Hz", "dB/s", "cm/s", "cm2", "cm2/s", "cm3", "cm3/s", "deg"}
)

func word(words []string, v ingest.Optional[uint16]) string {
	if !v.Set {
		return ""
	}
	if int(v.Value) < len(words) {
		return words[v.Value]
	}
	return fmt.Sprintf("code %d", v.Value)
}

func regionsOf(img *ingest.Image) []analyse.Region {
	if len(img.Regions) == 0 {
		return nil
	}
	regions := make([]analyse.Region, len(img.Regions))
	for i := range img.Regions {
		regions[i] = regionOf(&img.Regions[i], img)
	}
	return regions
}

func regionOf(raw *ingest.Region, img *ingest.Image) analyse.Region {
	r := analyse.Region{
		Raw:         raw,
		Format:      word(formatWords, raw.SpatialFormat),
		DataType:    word(dataWords, raw.DataType),
		UnitsX:      word(unitWords, raw.UnitsX),
		UnitsY:      word(unitWords, raw.UnitsY),
		MMPerPixelX: mmPerPixel(raw.UnitsX, raw.DeltaX),
		MMPerPixelY: mmPerPixel(raw.UnitsY, raw.DeltaY),
	}
	r.Calibrated = scaled(raw.UnitsX, raw.DeltaX) || scaled(raw.UnitsY, raw.DeltaY)
	if r.Calibrated {
		r.Suspect = beyond(raw, img)
	}
	r.Note = remark(raw, &r)
	return r
}

// mmPerPixel is the size of a pixel along an axis of lengths, without sign.
func mmPerPixel(unit ingest.Optional[uint16], delta ingest.Optional[float64]) ingest.Optional[float64] {
	if unit.Set && unit.Value == ingest.UnitCM && delta.Set && delta.Value != 0 {
		return ingest.Some(math.Abs(delta.Value) * 10)
	}
	return ingest.Optional[float64]{}
}

// scaled tells that an axis has a physical unit and a scale.
func scaled(unit ingest.Optional[uint16], delta ingest.Optional[float64]) bool {
	return unit.Set && unit.Value != ingest.UnitNone && delta.Set && delta.Value != 0
}

// beyond says how the bounds of a region contradict its image: more than one
// pixel outside means that the image was resampled after it was calibrated, and
// the words name the scale that would explain it. One pixel outside is a bound
// written as exclusive, which harms nothing.
func beyond(raw *ingest.Region, img *ingest.Image) string {
	if !raw.MaxX1.Set || !raw.MaxY1.Set || !raw.MinX0.Set || !raw.MinY0.Set || img.Columns == 0 || img.Rows == 0 {
		return ""
	}
	overX := int64(raw.MaxX1.Value) - int64(img.Columns-1)
	overY := int64(raw.MaxY1.Value) - int64(img.Rows-1)
	if overX <= 1 && overY <= 1 && raw.MinX0.Value >= 0 && raw.MinY0.Value >= 0 {
		return ""
	}
	return fmt.Sprintf("bounds reach to column %d and row %d of a picture of %d columns and %d rows, %.3g times its width and %.3g times its height; %s",
		raw.MaxX1.Value, raw.MaxY1.Value, img.Columns, img.Rows, reach(raw.MaxX1.Value, img.Columns), reach(raw.MaxY1.Value, img.Rows),
		reduction(reach(raw.MaxX1.Value, img.Columns), reach(raw.MaxY1.Value, img.Rows)))
}

// reach is how many times the picture an upper bound goes out to.
func reach(bound ingest.Index, pixels int) float64 { return float64(bound+1) / float64(pixels) }

// reduction says how much smaller the picture must have become after calibration to
// leave its bounds outside, each axis for itself: at least so much, since the region
// need not have filled the picture.
func reduction(across, down float64) string {
	if across <= 1 && down <= 1 {
		return "a bound is negative, which no scale explains"
	}
	return fmt.Sprintf("a picture reduced after calibration to %.3g or less of its width and %.3g or less of its height would explain it, and true distances would be %.3g times as long across and %.3g times down, or longer",
		1/math.Max(across, 1), 1/math.Max(down, 1), math.Max(across, 1), math.Max(down, 1))
}

// remark is what a reader of the regions table should know beside Suspect.
func remark(raw *ingest.Region, r *analyse.Region) string {
	switch {
	case !raw.RefX0.Set || !raw.RefY0.Set:
		if r.Calibrated {
			return "no reference pixel: differences only"
		}
	case raw.DeltaX.Set && raw.DeltaX.Value < 0 && raw.SpatialFormat.Value == ingest.Format2D:
		return "negative horizontal delta: sizes take the magnitude"
	}
	return ""
}
