package checks

import (
	"fmt"

	"leadline/analyse"
	"leadline/ingest"
)

// StripWidthImplausible is the finding strip-width-implausible: a strip lasts longer or shorter than any sweep.
var StripWidthImplausible = analyse.Check{
	ID:    "strip-width-implausible",
	Title: "a strip lasts longer or shorter than any sweep",
	Doc: "Width times Physical Delta X of an M-mode, spectral or trace strip is below 0.5 s or above 60 s. Sweep speeds " +
		"in use run from 10 to 200 mm/s on strips of 10 to 30 cm, that is from 0.5 to 30 s (common practice, no " +
		"source). Every duration, heart rate and slope from this strip follows the delta.",
	Advice:   "Compare a beat-to-beat interval on the strip with the heart rate.",
	Severity: analyse.Warning,
	OfDevice: true,
	Run:      eachImage(stripWidthImplausible),
}

// The time a strip can show, in seconds: 10 cm at 200 mm/s, and twice 30 cm at
// 10 mm/s (common practice, no source).
const shortestStripS, longestStripS = 0.5, 60

// part is what makes strips one: a sweeping strip may be written as two regions, one
// on each side of the line where new data are drawn (PS3.3 C.8.5.5.1.16.7).
type part struct {
	format   uint16
	top, end ingest.Index
	delta    float64
}

func partOf(r *ingest.Region) part {
	return part{r.SpatialFormat.Value, r.MinY0.Value, r.MaxY1.Value, r.DeltaX.Value}
}

// stripWidthImplausible takes strips of one height and scale together before it
// calls one too short.
func stripWidthImplausible(img *analyse.Image) string {
	together := map[part]float64{}
	for i := range img.Regions {
		if s, ok := spanX(img.Regions[i].Raw, ingest.UnitSecond); ok {
			together[partOf(img.Regions[i].Raw)] += s
		}
	}
	return firstRegion(img, func(r *analyse.Region) string {
		s, ok := spanX(r.Raw, ingest.UnitSecond)
		if !ok || s <= longestStripS && together[partOf(r.Raw)] >= shortestStripS {
			return ""
		}
		return fmt.Sprintf("the strip is %.3g s wide (Physical Delta X %.4g s)", s, r.Raw.DeltaX.Value)
	})
}
