package assemble

import (
	"math"
	"strconv"
	"strings"

	"leadline/analyse"
	"leadline/analyse/rebuild"
	"leadline/ingest"
	"leadline/ingest/protocol"
)

// pictures remembers what was said about the pictures met.
type pictures map[*ingest.Image]*analyse.Picture

// of says what follows from the header of one image.
func (p pictures) of(img *ingest.Image) *analyse.Picture {
	known, ok := p[img]
	if !ok {
		known = pictureOf(img)
		p[img] = known
	}
	return known
}

func pictureOf(img *ingest.Image) *analyse.Picture {
	p := &analyse.Picture{
		Kind: analyse.Still, Regions: regionsOf(img), Modes: modesOf(img), View: viewOf(img), DepthMM: img.DepthMM,
	}
	if p.View != "" {
		p.ViewSource = analyse.ViewOfHeader
	}
	if view, side, ok := protocol.ViewOf(img.View.Code, img.View.Name); ok {
		p.ViewID, p.ViewSide = view.ID, side
	}
	viewOfOverlay(p, &img.View)
	if img.Frames > 1 {
		p.Kind = analyse.Clip
		p.FrameRateHz, p.DurationS, _, _ = rebuild.ClipTiming(img)
	}
	p.Calibration = calibrationOf(img, p.Regions)
	p.ThermalIndex, p.ThermalIndexKind = thermalIndex(img.Acoustic)
	return p
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

// viewOfOverlay takes the view that an overlay is labelled with, where neither view
// code nor view name tells one: a word of the vocabulary as a whole.
func viewOfOverlay(p *analyse.Picture, header *ingest.View) {
	for _, text := range []string{header.OverlayLabel, header.OverlayDescription} {
		view, side, ok := protocol.ViewOf(ingest.Code{}, text)
		if !ok || p.ViewID != "" {
			continue
		}
		p.View, p.ViewID, p.ViewSide = view.ID, view.ID, side
		if side != "" {
			p.View += ", " + side
		}
		p.ViewSource, p.ViewFrom = analyse.ViewOfAnnotation, "the label of its overlay"
	}
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
func calibrationOf(img *ingest.Image, regions []analyse.Region) string {
	usable, suspect := false, false
	for _, r := range regions {
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
	case img.Spacing.Pixel.Set:
		return string(analyse.CalibrationSpacing)
	}
	return string(analyse.CalibrationNone)
}
