package rebuild

import (
	"slices"

	"leadline/analyse"
	"leadline/analyse/physical"
	"leadline/ingest"
)

// formula is one quantity that a geometry can give.
type formula struct {
	geometry ingest.Geometry
	quantity analyse.QuantityKind
	// unit is that of the value; x and y are the units that the axes must have,
	// empty where an axis is not used.
	unit, x, y physical.Unit
	// min and max bound the number of points; max 0 is no bound.
	min, max int
	// plain tells that the geometry stands for this quantity where neither unit
	// nor measure says otherwise.
	plain bool
	// absolute tells that the y axis needs a zero.
	absolute bool
	// timed tells that it measures along the time axis, so that the gap of a sweeping
	// strip must not lie between its points.
	timed bool
	// named tells that only the measure makes it known: a trace has a peak and a mean
	// in one unit.
	named bool
	// note is what the value takes for granted.
	note    string
	compute func(physical.Plane, []ingest.Point) (physical.Quantity, error)
}

// formulas are all of them. Where several fit the same unit, axes and measure, the
// first is taken: the length of a closed shape is its circumference (PS3.16 TID
// 1400 takes a circle or ellipse as the path of a linear measurement).
var formulas = slices.Concat([]formula{
	{geometry: ingest.GeometryPoint, quantity: analyse.Velocity, unit: physical.CMPerS, x: "", y: physical.CMPerS, min: 1, max: 1, plain: true, absolute: true, compute: onPoint(physical.Plane.Velocity)},
	{geometry: ingest.GeometryPoint, quantity: analyse.Depth, unit: physical.MM, x: "", y: physical.MM, min: 1, max: 1, plain: true, absolute: true, compute: onPoint(physical.Plane.Depth)},

	{geometry: ingest.GeometryLine, quantity: analyse.Distance, unit: physical.MM, x: physical.MM, y: physical.MM, min: 2, max: 2, plain: true, compute: onEnds(physical.Plane.Distance)},
	{geometry: ingest.GeometryLine, quantity: analyse.Duration, unit: physical.S, x: physical.S, y: "", min: 2, max: 2, plain: true, timed: true, compute: onEnds(physical.Plane.Duration)},
	{geometry: ingest.GeometryLine, quantity: analyse.DepthDifference, unit: physical.MM, x: physical.S, y: physical.MM, min: 2, max: 2, plain: true, compute: onEnds(physical.Plane.DepthDifference)},
	{geometry: ingest.GeometryLine, quantity: analyse.VelocityDifference, unit: physical.CMPerS, x: "", y: physical.CMPerS, min: 2, max: 2, plain: true, compute: onEnds(physical.Plane.VelocityDifference)},
	{geometry: ingest.GeometryLine, quantity: analyse.Slope, unit: physical.CMPerS, x: physical.S, y: physical.MM, min: 2, max: 2, timed: true, compute: onEnds(physical.Plane.Slope)},
	{geometry: ingest.GeometryLine, quantity: analyse.Rate, unit: physical.PerMin, x: physical.S, y: "", min: 2, max: 2, timed: true, compute: onCycles(1)},
	{geometry: ingest.GeometryLine, quantity: analyse.Acceleration, unit: physical.CMPerS2, x: physical.S, y: physical.CMPerS, min: 2, max: 2, timed: true, compute: onEnds(physical.Plane.Acceleration)},

	{geometry: ingest.GeometryPolyline, quantity: analyse.PathLength, unit: physical.MM, x: physical.MM, y: physical.MM, min: 2, plain: true, compute: physical.Plane.PathLength},
	{geometry: ingest.GeometryPolyline, quantity: analyse.Angle, unit: physical.Deg, x: physical.MM, y: physical.MM, min: 3, max: 4, compute: angle},

	{geometry: ingest.GeometryPolygon, quantity: analyse.Area, unit: physical.MM2, x: physical.MM, y: physical.MM, min: 3, plain: true, compute: physical.Plane.PolygonArea},
	{geometry: ingest.GeometryPolygon, quantity: analyse.Perimeter, unit: physical.MM, x: physical.MM, y: physical.MM, min: 3, compute: physical.Plane.Perimeter},

	{geometry: ingest.GeometryEllipse, quantity: analyse.Area, unit: physical.MM2, x: physical.MM, y: physical.MM, min: 4, max: 4, plain: true, compute: physical.Plane.EllipseArea},
	{geometry: ingest.GeometryEllipse, quantity: analyse.Perimeter, unit: physical.MM, x: physical.MM, y: physical.MM, min: 4, max: 4, compute: physical.Plane.EllipsePerimeter},

	{geometry: ingest.GeometryCircle, quantity: analyse.Area, unit: physical.MM2, x: physical.MM, y: physical.MM, min: 2, max: 2, plain: true, compute: onEnds(physical.Plane.CircleArea)},
	{geometry: ingest.GeometryCircle, quantity: analyse.Perimeter, unit: physical.MM, x: physical.MM, y: physical.MM, min: 2, max: 2, compute: onEnds(physical.Plane.CirclePerimeter)},
	{geometry: ingest.GeometryCircle, quantity: analyse.Distance, unit: physical.MM, x: physical.MM, y: physical.MM, min: 2, max: 2, compute: onEnds(physical.Plane.CircleDiameter)},

	{geometry: ingest.GeometryDiscs, quantity: analyse.Volume, unit: physical.ML, x: physical.MM, y: physical.MM, min: 5, plain: true, compute: discs},

	{geometry: ingest.GeometryFrames, quantity: analyse.Duration, unit: physical.S, plain: true},
}, traced(ingest.GeometryPolyline, 3, false), traced(ingest.GeometryPolygon, 3, true))

// traced are the quantities of a velocity traced over time, open or closed by way of
// the baseline.
func traced(g ingest.Geometry, points int, closed bool) []formula {
	list := []formula{
		{quantity: analyse.VelocityTimeIntegral, unit: physical.MM, compute: onTrace(physical.Envelope.VTI, closed)},
		{quantity: analyse.Velocity, unit: physical.CMPerS, named: true, compute: onTrace(physical.Envelope.Peak, closed)},
		{quantity: analyse.MeanVelocity, unit: physical.CMPerS, named: true, compute: onTrace(physical.Envelope.Mean, closed)},
		{quantity: analyse.MeanGradient, unit: physical.MMHg, named: true, compute: onTrace(physical.Envelope.MeanGradient, closed)},
	}
	for i := range list {
		f := &list[i]
		f.geometry, f.min, f.x, f.y = g, points, physical.S, physical.CMPerS
		f.plain, f.absolute, f.timed = true, true, true
	}
	return list
}

func onTrace(f func(physical.Envelope) (physical.Quantity, error), closed bool) func(physical.Plane, []ingest.Point) (physical.Quantity, error) {
	return func(p physical.Plane, pts []ingest.Point) (physical.Quantity, error) {
		e, err := p.Trace(pts, closed)
		if err != nil {
			return physical.Quantity{}, err
		}
		return f(e)
	}
}

// discs reads the ends of the long axis, then the contour.
func discs(p physical.Plane, pts []ingest.Point) (physical.Quantity, error) {
	c, err := p.Cavity(pts[2:], pts[0], pts[1])
	if err != nil {
		return physical.Quantity{}, err
	}
	return c.Volume()
}

func onPoint(f func(physical.Plane, ingest.Point) (physical.Quantity, error)) func(physical.Plane, []ingest.Point) (physical.Quantity, error) {
	return func(p physical.Plane, pts []ingest.Point) (physical.Quantity, error) { return f(p, pts[0]) }
}

func onEnds(f func(p physical.Plane, a, b ingest.Point) (physical.Quantity, error)) func(physical.Plane, []ingest.Point) (physical.Quantity, error) {
	return func(p physical.Plane, pts []ingest.Point) (physical.Quantity, error) { return f(p, pts[0], pts[1]) }
}

// angle reads three points as a vertex between two ends, four as two lines.
func angle(p physical.Plane, pts []ingest.Point) (physical.Quantity, error) {
	if len(pts) == 3 {
		return p.Angle(pts[0], pts[1], pts[2])
	}
	return p.AngleBetween(pts[0], pts[1], pts[2], pts[3])
}

// fits tells that the axes have the units that the formula needs.
func (f *formula) fits(p physical.Plane) bool {
	return (f.x == "" || p.X.Is(f.x)) && (f.y == "" || p.Y.Is(f.y))
}

// same tells that two planes give the same value by this formula.
func (f *formula) same(a, b physical.Plane) bool {
	return (f.x == "" || a.X.SameScale(b.X)) && (f.y == "" || a.Y.SameScale(b.Y)) &&
		(!f.absolute || a.Y.SameZero(b.Y))
}
