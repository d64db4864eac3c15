package checks

import (
	"fmt"

	"leadline/analyse"
	"leadline/analyse/physical"
	"leadline/ingest"
)

// RegionsDisagree is the finding regions-disagree: overlapping regions have different scales.
var RegionsDisagree = analyse.Check{
	ID:    "regions-disagree",
	Title: "overlapping regions have different scales",
	Doc: "Two 2D regions overlap and their scales differ, so a distance in the overlap has no single value. " +
		"The priority flag is about pixel values, not about scale (PS3.3 C.8.5.5.1.3).",
	Advice:   "Measure outside the overlap; ask the maker.",
	Severity: analyse.Warning,
	OfDevice: true,
	Run:      eachPicture(regionsDisagree),
}

func regionsDisagree(p *analyse.Picture) string {
	for i := range p.Regions {
		for j := i + 1; j < len(p.Regions); j++ {
			a, b := &p.Regions[i], &p.Regions[j]
			if flat(a) && flat(b) && overlap(a.Raw, b.Raw) && !sameScale(a.Raw, b.Raw) {
				return fmt.Sprintf("regions %d and %d overlap and differ in scale", a.Raw.Ordinal, b.Raw.Ordinal)
			}
		}
	}
	return ""
}

// flat tells a 2D region with lengths on both axes.
func flat(r *analyse.Region) bool {
	return r.Raw.SpatialFormat.Value == ingest.Format2D && r.MMPerPixelX.Set && r.MMPerPixelY.Set
}

func overlap(a, b *ingest.Region) bool {
	return a.MinX0.Value <= b.MaxX1.Value && b.MinX0.Value <= a.MaxX1.Value &&
		a.MinY0.Value <= b.MaxY1.Value && b.MinY0.Value <= a.MaxY1.Value
}

func sameScale(a, b *ingest.Region) bool {
	p, q := physical.RegionPlane(a), physical.RegionPlane(b)
	return p.X.SameScale(q.X) && p.Y.SameScale(q.Y)
}
