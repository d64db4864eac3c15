package completeness

import (
	"slices"

	"leadline/analyse"
	"leadline/ingest"
	"leadline/ingest/protocol"
)

// planeWords name a plane in a note.
var planeWords = map[string]string{
	protocol.Mode2D: "a picture", protocol.ModeMMode: "an M-mode strip", protocol.ModeSpectral: "a Doppler strip",
	protocol.ModePW: "a pulsed Doppler strip", protocol.ModeCW: "a continuous wave Doppler strip",
}

// inPlane tells whether a measurement was taken in a plane, and where not, in which.
func (v *view) inPlane(m *analyse.Measurement, wanted string) (answer, string) {
	planes := v.planeOf(m)
	kindUnknown := (wanted == protocol.ModePW || wanted == protocol.ModeCW) && slices.Equal(planes, []string{protocol.ModeSpectral})
	switch {
	case wanted == "" || slices.Contains(planes, wanted):
		return yes, ""
	case planes == nil || kindUnknown:
		return unknown, ""
	}
	return no, planeWords[planes[0]]
}

// planeOf tells in which planes (protocol.Planes, the most exact first) a
// measurement was taken: by the region that scaled it, else by the regions that hold
// its caliper, else by the modes of its image, where these are of one plane, else by
// the mode that a report says. It is nil where that cannot be told: a number alone, or
// an image that holds a picture and a strip and does not say where they lie.
func (v *view) planeOf(m *analyse.Measurement) []string {
	planes := v.planeOfCaliper(m)
	if planes == nil && slices.Contains(protocol.Planes, string(m.Mode)) {
		return []string{string(m.Mode)}
	}
	return planes
}

func (v *view) planeOfCaliper(m *analyse.Measurement) []string {
	at := slices.IndexFunc(v.pictures, func(p picture) bool { return p.SOPInstanceUID == m.SOPUID })
	if at < 0 || m.SOPUID == "" {
		return nil
	}
	img := v.pictures[at].Image
	var planes []string
	for i := range img.Regions {
		raw := img.Regions[i].Raw
		holds := m.Region == raw.Ordinal || m.Region == 0 && len(m.Points) > 0 && holdsAll(raw, m.Points)
		its := planesOfRegion(raw)
		switch {
		case !holds || its == nil:
		case planes == nil:
			planes = its
		case !slices.Equal(planes, its):
			return nil
		}
	}
	if planes == nil {
		return planesOfModes(img.Modes)
	}
	return planes
}

// holdsAll tells that all points lie within the bounds of a region, to a pixel.
func holdsAll(r *ingest.Region, points []ingest.Point) bool {
	if !r.MinX0.Set || !r.MinY0.Set || !r.MaxX1.Set || !r.MaxY1.Set {
		return false
	}
	outside := func(p ingest.Point) bool {
		return p.X < float64(r.MinX0.Value) || p.X > float64(r.MaxX1.Value)+1 || p.Y < float64(r.MinY0.Value) || p.Y > float64(r.MaxY1.Value)+1
	}
	return !slices.ContainsFunc(points, outside)
}

// Region Data Types of spectra (PS3.3 C.8.5.5.1.2).
const (
	dataPW = 3
	dataCW = 4
)

// planesOfRegion tells the planes of a region by its spatial format and data type.
func planesOfRegion(r *ingest.Region) []string {
	switch r.SpatialFormat.Value {
	case ingest.Format2D:
		return []string{protocol.Mode2D}
	case ingest.FormatMMode:
		return []string{protocol.ModeMMode}
	case ingest.FormatSpectral:
		switch r.DataType.Value {
		case dataPW:
			return []string{protocol.ModePW, protocol.ModeSpectral}
		case dataCW:
			return []string{protocol.ModeCW, protocol.ModeSpectral}
		}
		return []string{protocol.ModeSpectral}
	}
	return nil
}

// planesOfModes tells the planes of an image that holds one alone.
func planesOfModes(modes []string) []string {
	var planes []string
	for _, mode := range modes {
		its := []string{protocol.Mode2D}
		switch mode {
		case "m-mode", "colour-m-mode":
			its = []string{protocol.ModeMMode}
		case "pw", "cw":
			its = []string{mode, protocol.ModeSpectral}
		}
		if planes != nil && !slices.Equal(planes, its) {
			return nil
		}
		planes = its
	}
	return planes
}
