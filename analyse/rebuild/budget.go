package rebuild

import (
	"fmt"
	"math"

	"leadline/analyse"
	"leadline/analyse/physical"
)

// powers are the powers of length, time and velocity in a quantity: what a relative
// error of that scale does to the value, to first order. Values at a point are taken
// as measured from the zero of their axis. An angle keeps its size, since the scales
// of both directions are off alike.
type powers struct{ length, time, velocity float64 }

var powersOf = map[analyse.QuantityKind]powers{
	analyse.Distance: {length: 1}, analyse.PathLength: {length: 1}, analyse.Perimeter: {length: 1},
	analyse.Depth: {length: 1}, analyse.DepthDifference: {length: 1},
	analyse.Area: {length: 2}, analyse.Volume: {length: 3}, analyse.Angle: {},
	analyse.Duration: {time: 1}, analyse.Rate: {time: -1}, analyse.Slope: {length: 1, time: -1},
	analyse.Velocity: {velocity: 1}, analyse.VelocityDifference: {velocity: 1}, analyse.MeanVelocity: {velocity: 1},
	analyse.Acceleration: {velocity: 1, time: -1}, analyse.VelocityTimeIntegral: {velocity: 1, time: 1},
	analyse.MeanGradient: {velocity: 2},
}

// withScale adds the uncertainty of the scale to that of the points.
func withScale(points physical.Quantity, kind analyse.QuantityKind, rule *analyse.UncertaintyRule, work *physical.Work) (physical.Quantity, analyse.ScaleU) {
	q, relativeU := points, rule.ScaleRelativeU()
	p, k := powersOf[kind], q.Value*relativeU
	part := analyse.ScaleU{Length: p.length * k, Time: p.time * k, Velocity: p.velocity * k}
	if relativeU > 0 {
		q.StdU = math.Hypot(q.StdU, part.StdU())
	}
	if work != nil {
		explainScale(work, q, points, rule, part, p)
	}
	return q, part
}

// placed says which placing error and which tolerance are in the uncertainty.
func (o *outcome) placed(pixels float64, protocol string) {
	if pixels > 0 {
		o.notes.add(fmt.Sprintf("placing error of %g pixels a coordinate, by protocol %s", pixels, protocol))
	}
	if o.scaleU != (analyse.ScaleU{}) {
		o.notes.add("U holds the calibration tolerance of protocol " + protocol)
	}
}
