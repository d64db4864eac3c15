package physical

import (
	"errors"
	"math"

	"leadline/ingest"
)

// CoordinateStdU is the standard uncertainty of one coordinate of a caliper, in
// pixels: a rectangular distribution of half-width 0.5 pixel (JCGM 100:2008
// 4.3.7), since a caliper rests on whole pixels. All coordinates are independent.
// Where a hand would have placed the caliper otherwise is no part of it; Plane.PointStdU
// takes its place where that is known.
var CoordinateStdU = 0.5 / math.Sqrt(3)

// pointStdU is the standard uncertainty of one coordinate on this plane, in pixels.
func (p Plane) pointStdU() float64 {
	if p.PointStdU > 0 {
		return p.PointStdU
	}
	return CoordinateStdU
}

// The reasons for which a shape has no value.
var (
	// ErrDegenerate: points coincide or lie on a line, so that the value or its
	// derivative is undefined.
	ErrDegenerate = errors.New("points coincide, so the shape has no size")
	// ErrSelfCrossing: the outline crosses itself, so its area is not defined.
	ErrSelfCrossing = errors.New("outline crosses itself, so its area is not defined")
	// ErrFlat: all points of the outline lie on one line.
	ErrFlat = errors.New("points of the outline lie on one line, so it has no area")
	// ErrTooManyPoints: the outline has more points than are looked at.
	ErrTooManyPoints = errors.New("outline has more points than can be checked for crossings")
	// ErrPointCount: the shape needs another number of points.
	ErrPointCount = errors.New("the shape needs another number of points")
	// ErrAxes: the axes are not in the units that the quantity needs.
	ErrAxes = errors.New("the axes are not in the units that the quantity needs")
	// ErrNoZero: the axis has no zero, so only differences mean anything.
	ErrNoZero = errors.New("the axis has no zero")
	// ErrNotFinite: the arithmetic left the range of numbers.
	ErrNotFinite = errors.New("the value is not a finite number")
)

// vec is a place or a partial derivative in physical units, x then y.
type vec struct{ x, y float64 }

func (a vec) minus(b vec) vec          { return vec{a.x - b.x, a.y - b.y} }
func (a vec) plus(b vec) vec           { return vec{a.x + b.x, a.y + b.y} }
func (a vec) times(k float64) vec      { return vec{a.x * k, a.y * k} }
func (a vec) dot(b vec) float64        { return a.x*b.x + a.y*b.y }
func (a vec) cross(b vec) float64      { return a.x*b.y - a.y*b.x }
func (a vec) length() float64          { return math.Hypot(a.x, a.y) }
func (a vec) turned() vec              { return vec{-a.y, a.x} }
func (a vec) over(k float64) vec       { return vec{a.x / k, a.y / k} }
func (a vec) squared() float64         { return a.dot(a) }
func (a vec) isZero() bool             { return a.x == 0 && a.y == 0 }
func (a vec) scaled(p Plane) vec       { return vec{a.x * p.X.Delta, a.y * p.Y.Delta} }
func at(pt ingest.Point) vec           { return vec{pt.X, pt.Y} }
func (p Plane) at(pt ingest.Point) vec { return at(pt).scaled(p) }

func (p Plane) all(points []ingest.Point) []vec {
	out := make([]vec, len(points))
	for i, pt := range points {
		out[i] = p.at(pt)
	}
	return out
}

// result propagates the uncertainty of the coordinates to first order (JCGM
// 100:2008 5.1.2, equation 10):
//
//	u² = u_px² · Σ ((∂f/∂x_i · δx)² + (∂f/∂y_i · δy)²)
//
// partials holds one derivative by the physical place of each point. A point that
// serves twice, as every inner vertex of a path, stands there once with its whole
// derivative: that is what keeps its two uses correlated.
func (p Plane) result(value float64, unit Unit, points []ingest.Point, partials []vec) (Quantity, error) {
	for i, d := range partials {
		partials[i] = d.scaled(p)
	}
	return p.perPixel(value, unit, points, partials...)
}

// perPixel is result for derivatives by the pixel coordinates of each point.
func (p Plane) perPixel(value float64, unit Unit, points []ingest.Point, sensitivities ...vec) (Quantity, error) {
	join(points, sensitivities)
	sum := 0.0
	for _, d := range sensitivities {
		sum += d.squared()
	}
	q, err := checked(Quantity{Value: value, StdU: p.pointStdU() * math.Sqrt(sum), Unit: unit})
	if p.Work != nil && err == nil {
		p.Work.spread(p, q.StdU, unit, sensitivities)
	}
	if p.Contributions != nil && err == nil {
		u := p.pointStdU()
		for i, d := range sensitivities {
			if !d.isZero() {
				*p.Contributions = append(*p.Contributions, Contribution{points[i], d.x * u, d.y * u})
			}
		}
	}
	return q, err
}

// Contribution is what the errors of both coordinates of a point add to a value: its
// derivative times the standard uncertainty of the coordinate (JCGM 100:2008 5.1.3),
// with its sign, in the unit of the value. The squares of all add up to that of the
// standard uncertainty.
type Contribution struct {
	Point ingest.Point
	X, Y  float64
}

// fewPoints are as many as are compared each with each sooner than by a map.
const fewPoints = 64

// join adds the derivatives of points whose coordinates are exactly equal to that of
// the first of them, since they are one point: an axis that ends on a vertex of the
// contour, two lines that share an end.
func join(points []ingest.Point, by []vec) {
	if len(points) > fewPoints {
		joinMany(points, by)
		return
	}
	for i := 1; i < len(points); i++ {
		for k := range i {
			if points[k] == points[i] {
				by[k], by[i] = by[k].plus(by[i]), vec{}
				break
			}
		}
	}
}

func joinMany(points []ingest.Point, by []vec) {
	first := make(map[ingest.Point]int, len(points))
	for i, pt := range points {
		k, met := first[pt]
		if !met {
			first[pt] = i
			continue
		}
		by[k], by[i] = by[k].plus(by[i]), vec{}
	}
}

// checked keeps NaN and infinities inside.
func checked(q Quantity) (Quantity, error) {
	if !finite(q.Value) || !finite(q.StdU) {
		return Quantity{}, ErrNotFinite
	}
	return q, nil
}
