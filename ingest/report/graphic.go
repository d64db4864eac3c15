package report

import (
	"fmt"
	"slices"

	"leadline/ingest/coord"
	"leadline/ingest/dcm"
)

// shape is one graphic of the tree: one SCOORD item, or several points that are
// the vertices of one path.
type shape struct {
	first   int // the node of its (first) item
	graphic Graphic
	// ok tells that it could be read. One that could not still counts where
	// graphics are counted, so that its number does not get another's.
	ok bool
	// tied tells that it belongs to a number.
	tied bool
}

// readShapes reads all SCOORD items and joins path vertices that hang under one
// item (TID 1400 rows 5-7).
func (r *reader) readShapes() {
	for i := range r.nodes {
		if r.nodes[i].kind == typeGraphic {
			r.shapes[i] = r.shape(i)
		}
	}
	for i := range r.nodes {
		if r.nodes[i].kind != typeNumber {
			r.joinVertices(i)
		}
	}
}

// joinVertices makes one shape of the path vertices among the children of item i,
// and lets all of them stand for it.
func (r *reader) joinVertices(i int) {
	var vertices []*shape
	for _, c := range r.nodes[i].children {
		if s := r.shapes[c]; s != nil && isDCM(s.graphic.Purpose, conceptPathVertex) {
			vertices = append(vertices, s)
		}
	}
	joined := join(vertices)
	if len(vertices) < 2 || len(joined) != 1 {
		return
	}
	for _, s := range vertices {
		r.shapes[s.first] = joined[0]
	}
}

// join makes one polyline, in their order, of points that share purpose and
// images. Any other list comes back as it is.
func join(list []*shape) []*shape {
	if len(list) < 2 {
		return list
	}
	out := &shape{first: list[0].first, graphic: list[0].graphic, ok: true}
	out.graphic.Type, out.graphic.Points = "POLYLINE", nil
	for _, s := range list {
		if s.graphic.Type != "POINT" || s.graphic.Purpose != list[0].graphic.Purpose || !sameImages(s.graphic.Images, list[0].graphic.Images) {
			return list
		}
		out.ok = out.ok && s.ok
		out.graphic.Points = append(out.graphic.Points, s.graphic.Points...)
	}
	return []*shape{out}
}

func sameImages(a, b []dcm.Reference) bool {
	return slices.EqualFunc(a, b, func(x, y dcm.Reference) bool {
		return x.InstanceUID == y.InstanceUID && slices.Equal(x.Frames, y.Frames)
	})
}

// shape reads SCOORD item i (PS3.3 C.18.6).
func (r *reader) shape(i int) *shape {
	item := r.nodes[i].item
	s := &shape{first: i, graphic: Graphic{
		Path: r.path(i), Type: item.String(dcm.GraphicType), Purpose: r.concept(i), Images: r.selectedFrom(i),
	}}
	data := item.Floats(dcm.GraphicData)
	count := len(data) / 2
	switch {
	case len(data)%2 != 0:
		r.problem(i, "an even number of coordinates")
		return s
	case count > r.points:
		r.problem(i, fmt.Sprintf("at most %d points in the report; this graphic is left out", maxPoints))
		return s
	}
	if want, fits := pointsFit(s.graphic.Type, count); !fits {
		r.problem(i, want)
		return s
	}
	r.points -= count
	s.graphic.Points = make([]coord.Point, count)
	for k := range s.graphic.Points {
		s.graphic.Points[k] = coord.Point{X: data[2*k], Y: data[2*k+1]}
	}
	s.ok = true
	return s
}

// pointsFit tells whether a graphic of this type may have that many points (PS3.3
// C.18.6.1.2), and in words what was expected.
func pointsFit(kind string, count int) (expected string, fits bool) {
	switch kind {
	case "POINT":
		return "one point in a POINT", count == 1
	case "MULTIPOINT":
		return "one point or more in a MULTIPOINT", count >= 1
	case "POLYLINE":
		return "two points or more in a POLYLINE", count >= 2
	case "CIRCLE":
		return "two points in a CIRCLE: its centre and one on it", count == 2
	case "ELLIPSE":
		return "four points in an ELLIPSE: both ends of each axis", count == 4
	}
	return "a graphic type among POINT, MULTIPOINT, POLYLINE, CIRCLE and ELLIPSE", false
}

// selectedFrom lists the images a graphic lies on, by value or by reference. The
// same coordinates hold for each of them.
func (r *reader) selectedFrom(i int) []dcm.Reference {
	var refs []dcm.Reference
	for _, c := range r.nodes[i].children {
		at := r.nodes[c].target
		if at == none || r.nodes[at].kind != typeImage {
			continue
		}
		found := r.imagesAt(at)
		if r.entries -= len(found); r.entries < 0 {
			break
		}
		refs = append(refs, found...)
	}
	if len(refs) == 0 {
		r.problem(i, "an image the coordinates were selected from")
	}
	return refs
}
