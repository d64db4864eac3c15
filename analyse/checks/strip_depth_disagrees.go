package checks

import (
	"fmt"
	"slices"

	"leadline/analyse"
	"leadline/ingest"
)

// StripDepthDisagrees is the finding strip-depth-disagrees: depth of an M-mode strip and of its picture differ.
var StripDepthDisagrees = analyse.Check{
	ID:    "strip-depth-disagrees",
	Title: "depth of an M-mode strip and of its picture differ",
	Doc: "The depth that an M-mode strip shows, height times Physical Delta Y, differs by more than 5 % (common practice," +
		" no source) from that of the 2D picture beside it, along a line of which it was taken (PS3.3 C.8.5.5.1.10)," +
		" though both begin at the probe. One of the two scales is wrong: lengths in the strip or in the picture are" +
		" off by that factor. Strips and pictures that show an enlarged part are not judged.",
	Advice:   "Measure the same wall in the strip and in the picture before trusting either.",
	Severity: analyse.Warning,
	OfDevice: true,
	Run:      eachImage(stripDepthDisagrees),
}

// stripDepthDisagrees holds a strip against the 2D picture nearest to it in depth:
// beside two pictures the header does not say whose line it is. A strip or picture
// whose beginning is unknown is judged only where the strip goes deeper than any
// picture, since no line can.
func stripDepthDisagrees(img *analyse.Image) string {
	var pictures []float64
	known := true
	for i := range img.Regions {
		r := img.Regions[i].Raw
		span, ok := spanY(r, ingest.UnitCM)
		if !ok || !is(r, ingest.Format2D) {
			continue
		}
		top, _, ok := depths(r)
		if ok && analyse.Enlarged(top, span) {
			return ""
		}
		known = known && ok
		pictures = append(pictures, span)
	}
	if len(pictures) == 0 {
		return ""
	}
	slices.Sort(pictures)
	return firstRegion(img, func(r *analyse.Region) string {
		span, ok := spanY(r.Raw, ingest.UnitCM)
		if !ok || !is(r.Raw, ingest.FormatMMode) {
			return ""
		}
		beside := nearest(pictures, span)
		top, _, begins := depths(r.Raw)
		switch {
		case near(span, beside, depthTolerance), begins && analyse.Enlarged(top, span):
			return ""
		case span < beside && (!known || !begins):
			return ""
		}
		return fmt.Sprintf("the strip shows %.4g cm of depth, the 2D picture %.4g cm, %.3g times as much", span, beside, finite(beside/span))
	})
}

// nearest is the value of a sorted list that lies closest to v.
func nearest(sorted []float64, v float64) float64 {
	i, _ := slices.BinarySearch(sorted, v)
	switch {
	case i == 0:
		return sorted[0]
	case i == len(sorted), v-sorted[i-1] < sorted[i]-v:
		return sorted[i-1]
	}
	return sorted[i]
}
