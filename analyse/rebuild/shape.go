package rebuild

import (
	"leadline/ingest"
)

// shape is a graphic read as a caliper.
type shape struct {
	geometry ingest.Geometry
	points   []ingest.Point
	loose    bool
	note     string
}

// shapeOf reads a graphic type of PS3.3 C.18.6.1.2 (POINT MULTIPOINT POLYLINE
// CIRCLE ELLIPSE). It is false for a type that is none of these.
//
// A polyline of two points is a line, one whose last point is its first a polygon.
// Two separate points are taken as the ends of a line: that is how some writers
// store a pair of crosses. More than two are joined by nothing, so they have no
// length; as three or four points of an angle they are used.
func shapeOf(kind string, points []ingest.Point) (shape, bool) {
	switch kind {
	case "POINT":
		return shape{geometry: ingest.GeometryPoint, points: points}, true
	case "CIRCLE":
		return shape{geometry: ingest.GeometryCircle, points: points}, true
	case "ELLIPSE":
		return shape{geometry: ingest.GeometryEllipse, points: points}, true
	case "POLYLINE":
		return shape{geometry: pathGeometry(points), points: points}, true
	case "MULTIPOINT":
		s := shape{geometry: ingest.GeometryPolyline, points: points, loose: true}
		switch len(points) {
		case 1:
			s.geometry, s.loose = ingest.GeometryPoint, false
		case 2:
			s.geometry, s.loose, s.note = ingest.GeometryLine, false, "two separate points, taken as the ends of a line"
		}
		return s, true
	}
	return shape{}, false
}

func pathGeometry(points []ingest.Point) ingest.Geometry {
	switch n := len(points); {
	case n == 2:
		return ingest.GeometryLine
	case n > 2 && points[0] == points[n-1]:
		return ingest.GeometryPolygon
	}
	return ingest.GeometryPolyline
}

// outlined closes an open path that an area is wanted of: TID 1401 gives outlines
// whose first point is not always repeated.
func (s shape) outlined(w want) shape {
	area := w.unit == "mm2" || (w.unit == "" && w.kind == "area")
	if s.geometry == ingest.GeometryPolyline && !s.loose && area && len(s.points) > 2 {
		s.geometry, s.note = ingest.GeometryPolygon, "the outline is not closed in the file; its ends were joined"
	}
	return s
}

// put makes the shape the caliper's own.
func (c *caliper) put(s shape) {
	s = s.outlined(c.want)
	c.m.Geometry, c.m.Points = s.geometry, s.points
	c.want.loose = s.loose
	c.notes.add(s.note)
}
