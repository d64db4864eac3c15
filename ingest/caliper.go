package ingest

// Geometry is the kind of shape a measurement was taken from.
type Geometry string

// The geometries of a caliper. An ellipse has four points (both ends of the
// major, then of the minor axis), a circle two (centre, then a point on it), as
// in SCOORD (PS3.3 C.18.6.1.2). Discs are both ends of the long axis of a cavity,
// then its closed contour. Frames has no points: it is the interval between
// two frames of a clip.
const (
	GeometryPoint    Geometry = "point"
	GeometryLine     Geometry = "line"
	GeometryPolyline Geometry = "polyline"
	GeometryPolygon  Geometry = "polygon"
	GeometryEllipse  Geometry = "ellipse"
	GeometryCircle   Geometry = "circle"
	GeometryDiscs    Geometry = "discs"
	GeometryFrames   Geometry = "frames"
)

// CaliperRow is one row of a caliper table. SOPUID or Path names the image. Table is
// the path of the table, or what the output is to call it instead.
// Frames are numbered from 1: one for a shape, two for an interval.
type CaliperRow struct {
	Table        string
	Line         int
	SOPUID, Path string
	Frames       []int
	Label        string
	Geometry     Geometry
	Points       []Point
	// Value is the reported number, ValueText the way it is written, which tells
	// its last place.
	Value     Optional[float64]
	ValueText string
	Unit      string
	Observer  string
}
