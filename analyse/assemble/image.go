package assemble

import (
	"math"
	"strconv"
	"strings"

	"leadline/analyse"
	"leadline/ingest"
)

// imageOf says what follows from the header of one image.
func imageOf(inst *ingest.Instance) *analyse.Image {
	img := &analyse.Image{Instance: inst, Kind: analyse.Still, Acquired: clockTime(inst)}
	if inst.Image.Frames > 1 {
		img.Kind = analyse.Clip
	}
	img.Regions = regionsOf(inst.Image)
	img.Modes = modesOf(inst.Image)
	img.View = viewOf(inst.Image)
	img.DepthMM = inst.Image.DepthMM
	img.Calibration = calibrationOf(img)
	img.ThermalIndex, img.ThermalIndexKind = thermalIndex(inst.Image.Acoustic)
	return img
}

// modeBits are the bits of Image Type value 4 (PS3.3 C.8.5.6.1.1).
var modeBits = []struct {
	bit  uint64
	word string
}{
	{0x0001, "2d"}, {0x0002, "m-mode"}, {0x0004, "cw"}, {0x0008, "pw"}, {0x0010, "colour"},
	{0x0020, "colour-m-mode"}, {0x0040, "3d"}, {0x0100, "power"}, {0x0200, "tissue"},
}

// modesOf tells the modes of an image from Image Type value 4 and from its
// regions, which say it even where the value is empty.
func modesOf(img *ingest.Image) []string {
	found := map[string]bool{}
	if len(img.ImageType) >= 4 {
		if bits, err := strconv.ParseUint(img.ImageType[3], 16, 64); err == nil {
			for _, m := range modeBits {
				found[m.word] = found[m.word] || bits&m.bit != 0
			}
		}
	}
	for _, r := range img.Regions {
		if word := modeOfRegion(&r); word != "" {
			found[word] = true
		}
	}
	var modes []string
	for _, m := range modeBits {
		if found[m.word] {
			modes = append(modes, m.word)
		}
	}
	return modes
}

// modeOfRegion is the mode that a region's format and data type stand for.
func modeOfRegion(r *ingest.Region) string {
	colour := r.DataType.Set && r.DataType.Value == 2
	switch r.SpatialFormat.Value {
	case ingest.Format2D:
		if colour {
			return "colour"
		}
		if r.DataType.Value == 1 {
			return "2d"
		}
	case ingest.FormatMMode:
		if colour {
			return "colour-m-mode"
		}
		return "m-mode"
	case ingest.FormatSpectral:
		switch r.DataType.Value {
		case 3:
			return "pw"
		case 4:
			return "cw"
		}
	}
	return ""
}

// viewOf is the view in words: the code's meaning, else the view name.
func viewOf(img *ingest.Image) string {
	if img.View.Code.Meaning != "" {
		words := []string{img.View.Code.Meaning}
		for _, m := range img.View.Modifiers {
			words = append(words, m.Meaning)
		}
		return strings.Join(words, ", ")
	}
	return img.View.Name
}

// thermalIndex is the largest thermal index given, with its kind: TIS, TIB, TIC.
func thermalIndex(a ingest.Acoustic) (ingest.Optional[float64], string) {
	best, kind := math.Inf(-1), ""
	for _, c := range []struct {
		value ingest.Optional[float64]
		kind  string
	}{
		{a.SoftTissue, "TIS"}, {a.SoftTissueFocus, "TIS at focus"}, {a.SoftTissueSurface, "TIS at surface"},
		{a.Bone, "TIB"}, {a.Cranial, "TIC"},
	} {
		if c.value.Set && c.value.Value > best {
			best, kind = c.value.Value, c.kind
		}
	}
	if kind == "" {
		return ingest.Optional[float64]{}, ""
	}
	return ingest.Some(best), kind
}

// calibrationOf says where a scale of the image comes from.
func calibrationOf(img *analyse.Image) string {
	usable, suspect := false, false
	for _, r := range img.Regions {
		if r.Calibrated {
			usable = true
			suspect = suspect || r.Suspect != ""
		}
	}
	switch {
	case usable && suspect:
		return string(analyse.CalibrationRegion) + " (suspect)"
	case usable:
		return string(analyse.CalibrationRegion)
	case img.Image.Spacing.Pixel.Set:
		return string(analyse.CalibrationSpacing)
	}
	return string(analyse.CalibrationNone)
}
