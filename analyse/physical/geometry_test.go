package physical

import (
	"errors"
	"math"
	"testing"

	"leadline/ingest"
)

type pts = []ingest.Point

// path makes points of x, y, x, y …
func path(xy ...float64) pts {
	out := make(pts, len(xy)/2)
	for i := range out {
		out[i] = ingest.Point{X: xy[2*i], Y: xy[2*i+1]}
	}
	return out
}

func lengths(dx, dy float64) Plane {
	return Plane{X: Axis{Unit: MM, Delta: dx}, Y: Axis{Unit: MM, Delta: dy}}
}

func strip(unit Unit, dx, dy float64) Plane {
	return Plane{X: Axis{Unit: S, Delta: dx}, Y: Axis{Unit: unit, Delta: dy, Zero: ingest.Some(Zero{Pixel: 100})}}
}

func ends(f func(Plane, ingest.Point, ingest.Point) (Quantity, error)) func(Plane, pts) (Quantity, error) {
	return func(p Plane, q pts) (Quantity, error) { return f(p, q[0], q[1]) }
}

func single(f func(Plane, ingest.Point) (Quantity, error)) func(Plane, pts) (Quantity, error) {
	return func(p Plane, q pts) (Quantity, error) { return f(p, q[0]) }
}

func angle3(p Plane, q pts) (Quantity, error) { return p.Angle(q[0], q[1], q[2]) }
func angle4(p Plane, q pts) (Quantity, error) { return p.AngleBetween(q[0], q[1], q[2], q[3]) }

type geometryCase struct {
	name   string
	f      func(Plane, pts) (Quantity, error)
	plane  Plane
	points pts
	want   float64
	unit   Unit
}

// geometries are hand-computed; the arithmetic stands beside each.
var geometries = []geometryCase{
	// check-values.md, uncertainty rules: clicks (210,140), (318,221), 108 and 81
	// pixels, a 3-4-5 triangle: 135 · 0.08 = 10.800 mm.
	{"distance 3-4-5", ends(Plane.Distance), lengths(0.08, 0.08), path(210, 140, 318, 221), 10.8, MM},
	// The same clicks at 0.06 × 0.09: √(6.48² + 7.29²) = √95.1345 = 9.75369…
	{"distance, pixels not square", ends(Plane.Distance), lengths(0.06, 0.09), path(210, 140, 318, 221), math.Sqrt(95.1345), MM},
	{"distance, delta x negative", ends(Plane.Distance), lengths(-0.06, 0.09), path(210, 140, 318, 221), math.Sqrt(95.1345), MM},
	// 30·0.1 + 40·0.1 (a corner): 3 + 4.
	{"path of two pieces", Plane.PathLength, lengths(0.1, 0.1), path(10, 10, 40, 10, 40, 50), 7, MM},
	{"path with a vertex set twice", Plane.PathLength, lengths(0.1, 0.1), path(10, 10, 40, 10, 40, 10, 40, 50), 7, MM},
	// 30·0.1 and 40·0.2: 3 + 8.
	{"path, pixels not square", Plane.PathLength, lengths(0.1, 0.2), path(10, 10, 40, 10, 40, 50), 11, MM},
	// 3 + 4 + 5 mm.
	{"perimeter of a triangle", Plane.Perimeter, lengths(0.1, 0.1), path(10, 10, 40, 10, 40, 50), 12, MM},
	{"perimeter, first point repeated", Plane.Perimeter, lengths(0.1, 0.1), path(10, 10, 40, 10, 40, 50, 10, 10), 12, MM},
	// ½ · 3 · 4 mm².
	{"area of a triangle", Plane.PolygonArea, lengths(0.1, 0.1), path(10, 10, 40, 10, 40, 50), 6, MM2},
	{"area, other way round, closed", Plane.PolygonArea, lengths(0.1, 0.1), path(10, 10, 40, 50, 40, 10, 10, 10), 6, MM2},
	// 200·0.06 = 12 mm by 100·0.09 = 9 mm.
	{"area of a rectangle, pixels not square", Plane.PolygonArea, lengths(0.06, 0.09), path(0, 0, 200, 0, 200, 100, 0, 100), 108, MM2},
	// A dent: 10 × 10 less the triangle ½·10·5 = 75 px² at 0.01 mm².
	{"area with a dent", Plane.PolygonArea, lengths(0.1, 0.1), path(0, 0, 10, 0, 5, 5, 10, 10, 0, 10), 0.75, MM2},
	// check-values.md row 29: axes 24 × 18 mm, π/4·24·18 = 339.292; circumference 66.310.
	{"ellipse area", Plane.EllipseArea, lengths(0.1, 0.1), path(100, 200, 340, 200, 220, 110, 220, 290), math.Pi / 4 * 24 * 18, MM2},
	// p = 12, q = 9: h = (3/21)² = 1/49; π·21·(1 + 3h/(10 + √(4−3h))).
	{"ellipse circumference", Plane.EllipsePerimeter, lengths(0.1, 0.1), path(100, 200, 340, 200, 220, 110, 220, 290),
		math.Pi * 21 * (1 + 3.0/49/(10+math.Sqrt(4-3.0/49))), MM},
	// measurements.md 1.6: 40 × 30 mm → 942.48 mm², 110.517 mm. Drawn on pixels of
	// 0.1 × 0.2 mm: 400 columns, 150 rows.
	{"ellipse circumference, pixels not square", Plane.EllipsePerimeter, lengths(0.1, 0.2), path(0, 75, 400, 75, 200, 0, 200, 150),
		math.Pi * 35 * (1 + 3.0/49/(10+math.Sqrt(4-3.0/49))), MM},
	// A pixel circle of radius 100 drawn at 45°, on 0.1 × 0.2 mm pixels: semi-axes 10
	// and 20 mm, whatever the direction of its drawn axes: π·200.
	{"ellipse drawn aslant, pixels not square", Plane.EllipseArea, lengths(0.1, 0.2), aslant(100), math.Pi * 200, MM2},
	// r = 50 px: π·25 mm²; 2π·5 mm; 10 mm.
	{"circle area", ends(Plane.CircleArea), lengths(0.1, 0.1), path(100, 100, 130, 140), math.Pi * 25, MM2},
	{"circle circumference", ends(Plane.CirclePerimeter), lengths(0.1, 0.1), path(100, 100, 130, 140), math.Pi * 10, MM},
	{"circle diameter", ends(Plane.CircleDiameter), lengths(0.1, 0.1), path(100, 100, 130, 140), 10, MM},
	// Semi-axes 50·0.1 and 50·0.2 mm: π·5·10.
	{"circle area, pixels not square", ends(Plane.CircleArea), lengths(0.1, 0.2), path(100, 100, 130, 140), math.Pi * 50, MM2},
	// 3-4-5 triangle: the angle at the corner of sides 4 and 5 is asin(3/5).
	{"angle of three points", angle3, lengths(0.1, 0.1), path(400, 0, 0, 0, 400, 300), math.Asin(0.6) * 180 / math.Pi, Deg},
	// The same pixels at 0.1 × 0.4/3 mm: 40 by 40 mm, 45°.
	{"angle, pixels not square", angle3, lengths(0.1, 0.4/3), path(400, 0, 0, 0, 400, 300), 45, Deg},
	{"obtuse angle", angle3, lengths(0.1, 0.1), path(100, 0, 0, 0, -100, 100), 135, Deg},
	{"angle between two lines", angle4, lengths(0.1, 0.1), path(0, 0, 100, 0, 50, 50, 150, 150), 45, Deg},
	{"a line drawn the other way", angle4, lengths(0.1, 0.1), path(100, 0, 0, 0, 50, 50, 150, 150), 45, Deg},
	// 57 px · 0.0041768 s: shared/data I_000039 has such a strip. 57·0.004 = 0.228 s.
	{"duration", ends(Plane.Duration), strip(CMPerS, 0.004, -0.5), path(304, 350, 247, 350), 0.228, S},
	// 95 px · 0.070 mm = 6.65 mm (check-values.md row 20, TAPSE).
	{"depth difference", ends(Plane.DepthDifference), strip(MM, 0.005, 0.07), path(10, 20, 90, 115), 6.65, MM},
	// 223 px · 0.1794 = 40.0062 cm/s.
	{"velocity difference", ends(Plane.VelocityDifference), strip(CMPerS, 0.004, -0.1794), path(5, 240, 5, 463), 40.0062, CMPerS},
	// Zero at the centre of row 100: (50 − 100.5)·−0.5 = 25.25.
	{"velocity at a point", single(Plane.Velocity), strip(CMPerS, 0.004, -0.5), path(10, 50), 25.25, CMPerS},
	{"reversed flow keeps its sign", single(Plane.Velocity), strip(CMPerS, 0.004, -0.5), path(10, 150.5), -25, CMPerS},
	{"depth at a point", single(Plane.Depth), strip(MM, 0.004, 0.2), path(10, 150.5), 10, MM},
	// 30 px·0.2 mm = 6 mm in 60 px·0.005 s = 0.3 s: 20 mm/s = 2 cm/s.
	{"slope", ends(Plane.Slope), strip(MM, 0.005, 0.2), path(100, 100, 160, 130), 2, CMPerS},
	{"slope, ends exchanged", ends(Plane.Slope), strip(MM, 0.005, 0.2), path(160, 130, 100, 100), 2, CMPerS},
	// check-values.md row 14: RR 0.428 s → 140.187; 107 px·0.004 s.
	{"rate of a cycle", cycles(1), strip(CMPerS, 0.004, -0.5), path(120, 350, 227, 300), 60 / 0.428, PerMin},
	{"rate of a cycle, ends exchanged, time to the left", cycles(1), strip(MM, -0.004, 0.2), path(227, 300, 120, 350), 60 / 0.428, PerMin},
	// The same row: 5 beats in 2.14 s → 140.187; 535 px·0.004 s.
	{"rate of five cycles", cycles(5), strip(CMPerS, 0.004, -0.5), path(20, 350, 555, 350), 5 * 60 / 2.14, PerMin},
	// 40 px·−0.5 = −20 cm/s in 20 px·0.005 = 0.1 s: −200 cm/s².
	{"acceleration", ends(Plane.Acceleration), strip(CMPerS, 0.005, -0.5), path(100, 100, 120, 140), -200, CMPerS2},
}

func cycles(n int) func(Plane, pts) (Quantity, error) {
	return func(p Plane, q pts) (Quantity, error) { return p.CycleRate(q[0], q[1], n) }
}

// aslant are the axis ends of a circle of radius r pixels, its axes at 45°.
func aslant(r float64) pts {
	d := r / math.Sqrt2
	return path(300-d, 300-d, 300+d, 300+d, 300-d, 300+d, 300+d, 300-d)
}

func TestGeometries(t *testing.T) {
	for _, c := range geometries {
		q, err := c.f(c.plane, c.points)
		if err != nil || q.Unit != c.unit || math.Abs(q.Value-c.want) > 1e-9*math.Abs(c.want) {
			t.Errorf("%s: got %.12g %s %v, want %.12g %s", c.name, q.Value, q.Unit, err, c.want, c.unit)
		}
	}
}

// u of a distance by hand: along the line the two ends add as u_px·√2·δ for square
// pixels. 0.5/√3·√2·0.08 = 0.03266 mm (check-values.md: 1/√12 px per coordinate →
// 0.0327 mm); across an axis alone it is the same with that axis' δ.
func TestStandardUncertaintyByHand(t *testing.T) {
	d, _ := lengths(0.08, 0.08).Distance(ingest.Point{X: 210, Y: 140}, ingest.Point{X: 318, Y: 221})
	if math.Abs(d.StdU-0.0327) > 5e-5 {
		t.Errorf("distance: u %.5f, want 0.0327", d.StdU)
	}
	// A placing error of 1 pixel instead: √2·0.08 = 0.113 mm (check-values.md).
	hand := lengths(0.08, 0.08)
	hand.PointStdU = 1
	placed, _ := hand.Distance(ingest.Point{X: 210, Y: 140}, ingest.Point{X: 318, Y: 221})
	if math.Abs(placed.StdU-0.113) > 5e-4 || placed.Value != d.Value {
		t.Errorf("distance by hand: %v, want u 0.113", placed)
	}
	dt, _ := strip(CMPerS, 0.004, -0.5).Duration(ingest.Point{X: 1}, ingest.Point{X: 90})
	if want := 0.004 / math.Sqrt(6); math.Abs(dt.StdU-want) > 1e-15 { // δ/√6, measurements.md 4.8
		t.Errorf("duration: u %v, want %v", dt.StdU, want)
	}
	v, _ := strip(CMPerS, 0.004, -0.5).Velocity(ingest.Point{Y: 3})
	if want := 0.5 / math.Sqrt(12); math.Abs(v.StdU-want) > 1e-15 { // δ/√12
		t.Errorf("velocity: u %v, want %v", v.StdU, want)
	}
	// A vertex on a straight run adds nothing: its two uses cancel. Were they taken
	// as independent, u would grow by √2.
	straight, _ := lengths(0.1, 0.1).PathLength(path(0, 0, 50, 0, 100, 0))
	whole, _ := lengths(0.1, 0.1).Distance(ingest.Point{}, ingest.Point{X: 100})
	if math.Abs(straight.StdU-whole.StdU) > 1e-15 {
		t.Errorf("straight path: u %v, want %v", straight.StdU, whole.StdU)
	}
}

func TestRefusals(t *testing.T) {
	at := func(x, y float64) ingest.Point { return ingest.Point{X: x, Y: y} }
	l, s := lengths(0.1, 0.1), strip(CMPerS, 0.004, -0.5)
	far := math.MaxFloat64
	for _, c := range []struct {
		name string
		err  error
		want error
	}{
		{"distance of one point", second(l.Distance(at(3, 3), at(3, 3))), ErrDegenerate},
		{"distance in a strip", second(s.Distance(at(1, 1), at(2, 2))), ErrAxes},
		{"distance on hertz", second(strip(Hz, 0.1, 1).VelocityDifference(at(1, 1), at(2, 2))), ErrAxes},
		{"velocity on hertz", second(strip(Hz, 0.1, 1).Velocity(at(1, 1))), ErrAxes},
		{"path of one point", second(l.PathLength(path(1, 1))), ErrPointCount},
		{"path of one place", second(l.PathLength(path(1, 1, 1, 1, 1, 1))), ErrDegenerate},
		{"outline of two points", second(l.PolygonArea(path(1, 1, 2, 2, 1, 1))), ErrPointCount},
		{"outline without area", second(l.PolygonArea(path(0, 0, 1, 1, 2, 2))), ErrFlat},
		{"bow tie", second(l.PolygonArea(path(0, 0, 10, 10, 10, 0, 0, 10))), ErrSelfCrossing},
		{"outline that touches itself", second(l.PolygonArea(path(0, 0, 10, 0, 10, 10, 5, 0, 0, 10))), ErrSelfCrossing},
		{"outline that runs back", second(l.PolygonArea(path(0, 0, 10, 0, 4, 0, 4, 9))), ErrSelfCrossing},
		{"ellipse of three points", second(l.EllipseArea(path(1, 1, 2, 2, 3, 4))), ErrPointCount},
		{"flat ellipse", second(l.EllipseArea(path(0, 0, 9, 0, 3, 0, 6, 0))), ErrFlat},
		{"ellipse with one axis of no length", second(l.EllipseArea(path(0, 0, 9, 0, 3, 3, 3, 3))), ErrDegenerate},
		{"circle without radius", second(l.CircleArea(at(1, 1), at(1, 1))), ErrDegenerate},
		{"diameter, pixels not square", second(lengths(0.1, 0.2).CircleDiameter(at(1, 1), at(1, 9))), ErrAxes},
		{"angle with a ray of no length", second(l.Angle(at(1, 1), at(1, 1), at(2, 2))), ErrDegenerate},
		{"angle in a strip", second(s.Angle(at(1, 1), at(1, 2), at(2, 2))), ErrAxes},
		{"acceleration without duration", second(s.Acceleration(at(1, 1), at(1, 9))), ErrDegenerate},
		{"no zero", second(Plane{Y: Axis{Unit: CMPerS, Delta: 1}}.Velocity(at(1, 1))), ErrNoZero},
		{"beyond numbers", second(lengths(2, 2).Distance(at(-far, 0), at(far, 0))), ErrNotFinite},
		{"area beyond numbers", second(lengths(1e300, 1e300).PolygonArea(path(0, 0, 9, 0, 0, 9))), ErrNotFinite},
		{"not a number", second(l.Distance(at(math.NaN(), 0), at(1, 0))), ErrNotFinite},
	} {
		if !errors.Is(c.err, c.want) {
			t.Errorf("%s: got %v, want %v", c.name, c.err, c.want)
		}
	}
	many := make(pts, maxOutlinePoints+1)
	for i := range many {
		many[i] = at(math.Cos(float64(i)), float64(i))
	}
	if _, err := l.PolygonArea(many); !errors.Is(err, ErrTooManyPoints) {
		t.Errorf("too many points: %v", err)
	}
}

func second(_ Quantity, err error) error { return err }
