package ingest

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// maxCoordinate, in pixels, is far beyond any image and keeps what is computed
// from coordinates finite.
const maxCoordinate = 1e6

func (c cells) caliper() CaliperRow {
	row := CaliperRow{
		Table: c.table.name, Line: c.line,
		Label: c.get("label"), Unit: c.get("unit"), Observer: c.get("observer"),
	}
	row.SOPUID, row.Path = c.image()
	row.Geometry = c.geometry()
	row.Frames = c.frames(row.Geometry)
	row.Points = c.points(row.Geometry)
	row.Value, row.ValueText = c.value()
	return row
}

// geometries says how many points each geometry has; most 0 means any number more.
var geometries = []struct {
	name        Geometry
	least, most int
	expected    string
}{
	{GeometryPoint, 1, 1, "one point"},
	{GeometryLine, 2, 2, "two points, the ends of the line"},
	{GeometryPolyline, 2, 0, "two points or more"},
	{GeometryPolygon, 3, 0, "three points or more"},
	{GeometryEllipse, 4, 4, "four points, both ends of the major and then of the minor axis"},
	{GeometryCircle, 2, 2, "two points, the centre and one on the circle"},
	{GeometryDiscs, 5, 0, "five points or more, both ends of the long axis and then the contour"},
	{GeometryFrames, 0, -1, "no points for the interval between two frames"},
}

func (c cells) geometry() Geometry {
	word := strings.ToLower(c.get("geometry"))
	names := make([]string, len(geometries))
	for i, g := range geometries {
		if names[i] = string(g.name); names[i] == word {
			return g.name
		}
	}
	c.fail("geometry", oneOf(names, word))
	return ""
}

// frames reads one frame number, or two for an interval.
func (c cells) frames(g Geometry) []int {
	words := strings.FieldsFunc(c.get("frame"), func(r rune) bool { return r == ';' || r == ' ' || r == '\t' || r == '\u00a0' })
	var frames []int
	for _, w := range words {
		n, err := strconv.Atoi(w)
		if err != nil || n < 1 || n > math.MaxInt32 {
			c.fail("frame", "a frame number, a whole number from 1")
			return nil
		}
		frames = append(frames, n)
	}
	switch {
	case g == GeometryFrames && len(frames) != 2:
		c.fail("frame", "two frame numbers, such as 12;25")
	case g != GeometryFrames && len(frames) > 1:
		c.fail("frame", "one frame number")
	}
	return frames
}

// points reads x,y pairs and holds their number against the geometry.
func (c cells) points(g Geometry) []Point {
	var points []Point
	for _, pair := range pairs(c.get("points")) {
		x, y, comma := strings.Cut(pair, ",")
		px, okX := coordinate(x)
		py, okY := coordinate(y)
		if !comma || !okX || !okY {
			c.fail("points", fmt.Sprintf("pairs x,y in quotes, with decimal points, separated by blanks or semicolons; pair %d is none, or beyond ±%d pixels", len(points)+1, int(maxCoordinate)))
			return nil
		}
		points = append(points, Point{X: px, Y: py})
	}
	for _, rule := range geometries {
		if rule.name == g && (len(points) < rule.least || rule.most != 0 && len(points) > max(rule.most, 0)) {
			c.fail("points", rule.expected)
		}
	}
	return points
}

// pairs cuts a list of points at semicolons and blanks; blanks beside a comma
// belong to the pair.
func pairs(text string) []string {
	fields := strings.FieldsFunc(text, func(r rune) bool {
		return r == ';' || r == ' ' || r == '\t' || r == '\r' || r == '\n' || r == '\u00a0'
	})
	var out []string
	for _, f := range fields {
		if n := len(out); n > 0 && (strings.HasSuffix(out[n-1], ",") || strings.HasPrefix(f, ",")) {
			out[n-1] += f
			continue
		}
		out = append(out, f)
	}
	return out
}

// number reads a decimal number: sign, digits, point, exponent; no names of
// infinities, no hexadecimals, no digit groups.
func number(text string) (float64, bool) {
	if text == "" || strings.Trim(text, "0123456789.+-eE") != "" {
		return 0, false
	}
	v, err := strconv.ParseFloat(text, 64)
	return v, err == nil
}

func coordinate(text string) (float64, bool) {
	v, ok := number(text)
	return v, ok && v >= -maxCoordinate && v <= maxCoordinate
}

// value reads the reported number and keeps the way it is written.
func (c cells) value() (Optional[float64], string) {
	text := c.get("value")
	if text == "" {
		return Optional[float64]{}, ""
	}
	v, ok := number(text)
	switch {
	case !ok && strings.Contains(text, ","):
		c.fail("value", "a number with a decimal point, not a comma")
	case !ok:
		c.fail("value", "a number with a decimal point, and the unit in the column unit")
	default:
		return Optional[float64]{Value: v, Set: true}, text
	}
	return Optional[float64]{}, ""
}
