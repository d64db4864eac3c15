package presentation

import (
	"fmt"

	"leadline/ingest/coord"
	"leadline/ingest/dcm"
)

// graphic reads one item of Graphic Object Sequence or of Compound Graphic
// Sequence (PS3.3 C.10.5.1.2, C.10.5.1.3).
func (r *reader) graphic(d *dcm.Dataset, place string, compound bool) (Graphic, bool) {
	kind, units := dcm.GraphicType, dcm.GraphicAnnotationUnits
	if compound {
		kind, units = dcm.CompoundGraphicType, dcm.CompoundGraphicUnits
	}
	g := Graphic{
		Type: d.String(kind), Units: d.String(units), Compound: compound,
		Filled:     d.String(dcm.GraphicFilled) == "Y",
		GroupID:    int(d.Int(dcm.GraphicGroupID).Value),
		InstanceID: int(d.Int(dcm.CompoundGraphicInstanceID).Value),
	}
	data := d.Floats(dcm.GraphicData)
	count := len(data) / 2
	switch {
	case len(data)%2 != 0:
		r.problem(place, "an even number of coordinates")
		return g, false
	case count > r.points:
		r.problem(place, fmt.Sprintf("at most %d points in the state; this graphic is left out", maxPoints))
		return g, false
	}
	if expected, fits := pointsFit(g, count); !fits {
		r.problem(place, expected)
		return g, false
	}
	// The points stand in the data; a count that says otherwise (some writers count
	// values) is named and overruled.
	if n, said := d.Int(dcm.NumberOfGraphicPoints).Get(); said && n != int64(count) {
		r.problem(place, "as many points as Number of Graphic Points says")
	}
	r.points -= count
	g.Points = make([]coord.Point, count)
	for i := range g.Points {
		g.Points[i] = coord.Point{X: data[2*i], Y: data[2*i+1]}
	}
	return g, true
}

// pointsFit tells whether a graphic may have that many points, and in words what
// was expected. Compound types that are not listed may have any number but none.
func pointsFit(g Graphic, count int) (expected string, fits bool) {
	if g.Compound {
		switch g.Type {
		case "RULER", "AXIS":
			return "two points in a " + g.Type, count == 2
		case "":
			return "a compound graphic type", false
		}
		return "a point or more", count >= 1
	}
	switch g.Type {
	case "POINT":
		return "one point in a POINT", count == 1
	case "POLYLINE", "INTERPOLATED":
		return "two points or more in a " + g.Type, count >= 2
	case "CIRCLE":
		return "two points in a CIRCLE: its centre and one on it", count == 2
	case "ELLIPSE":
		return "four points in an ELLIPSE: both ends of each axis", count == 4
	}
	return "a graphic type among POINT, POLYLINE, INTERPOLATED, CIRCLE and ELLIPSE", false
}

// Shape is what a graphic is as a caliper: POINT, POLYLINE, CIRCLE or ELLIPSE with
// the points that SCOORD gives them (PS3.3 C.18.6.1.2). Ruler and axis are the
// line between their two points (C.10.5.1.3.3 and following), so is a compound
// multi-line of two points.
//
// ok is false for what bounds no measurable figure: INTERPOLATED, because the
// standard leaves the curve between its points to whoever draws it (C.10.5.1.2),
// and compound graphics whose points are not the figure itself, such as an ellipse
// given by its bounding box.
func (g Graphic) Shape() (kind string, ok bool) {
	if !g.Compound {
		return g.Type, g.Type != "INTERPOLATED"
	}
	switch g.Type {
	case "RULER", "AXIS", "MULTILINE":
		return "POLYLINE", len(g.Points) == 2
	}
	return "", false
}

// dropRepeated keeps each figure once. A compound graphic is repeated by simple
// ones with its instance id, for readers that do not know it (C.10.5.1.3.1). The
// compound one is kept where it is a caliper, because its substitutes include tick
// marks; else the simple ones are kept, where there are any.
func dropRepeated(graphics []Graphic) []Graphic {
	kept := map[int]bool{}   // instance ids of compound graphics that are calipers
	simple := map[int]bool{} // instance ids of simple graphics
	for _, g := range graphics {
		if _, ok := g.Shape(); g.InstanceID != 0 && g.Compound && ok {
			kept[g.InstanceID] = true
		}
		if g.InstanceID != 0 && !g.Compound {
			simple[g.InstanceID] = true
		}
	}
	out := graphics[:0]
	for _, g := range graphics {
		repeated := !g.Compound && kept[g.InstanceID] || g.Compound && !kept[g.InstanceID] && simple[g.InstanceID]
		if !repeated {
			out = append(out, g)
		}
	}
	return out
}
