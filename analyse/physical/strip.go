package physical

import (
	"math"

	"leadline/ingest"
)

// In a strip the axes have different units: a slanted line is no distance, but a
// duration along it and a depth or velocity difference across it (PS3.3
// C.8.5.5.1.16). Differences are magnitudes; 0 is a value like any other.

// Duration is |Δx·δx| in s; the x axis must be time. The line must not cross the
// write line of a sweeping strip (C.8.5.5.1.16.7), which the header cannot rule out.
func (p Plane) Duration(a, b ingest.Point) (Quantity, error) {
	return p.difference(p.X, S, a.X, b.X)
}

// DepthDifference is |Δy·δy| in mm; the y axis must be a length.
func (p Plane) DepthDifference(a, b ingest.Point) (Quantity, error) {
	return p.difference(p.Y, MM, a.Y, b.Y)
}

// VelocityDifference is |Δy·δy| in cm/s; the y axis must be a velocity.
func (p Plane) VelocityDifference(a, b ingest.Point) (Quantity, error) {
	return p.difference(p.Y, CMPerS, a.Y, b.Y)
}

// Depth is the value at a point of a y axis that is a length, in mm, signed as
// the file gives it. ErrNoZero where the region has no reference pixel.
func (p Plane) Depth(pt ingest.Point) (Quantity, error) { return p.absolute(p.Y, MM, pt.Y) }

// Velocity is the value at a point of a y axis that is a velocity, in cm/s, signed
// as the file gives it. ErrNoZero where the region has no reference pixel.
func (p Plane) Velocity(pt ingest.Point) (Quantity, error) { return p.absolute(p.Y, CMPerS, pt.Y) }

// Slope is the change of depth with time along a line in an M-mode strip, in
// cm/s, positive where the depth as the file scales it grows with time. A line
// without duration is degenerate; where it spans only a few columns the linear
// model of uncertainty does not hold (a ratio with a small denominator).
func (p Plane) Slope(a, b ingest.Point) (Quantity, error) {
	const mmPerCM = 10
	q, err := p.rate(MM, CMPerS, a, b)
	q.Value, q.StdU = q.Value/mmPerCM, q.StdU/mmPerCM
	return q, err
}

// Acceleration is the change of velocity with time along a line in a spectral
// strip, in cm/s², signed as the file scales it. Refused and doubtful as Slope.
func (p Plane) Acceleration(a, b ingest.Point) (Quantity, error) {
	return p.rate(CMPerS, CMPerS2, a, b)
}

// rate is Δy·δy / (Δx·δx). Both ends of both axes enter once.
func (p Plane) rate(rise, unit Unit, a, b ingest.Point) (Quantity, error) {
	if !p.X.Is(S) || !p.Y.Is(rise) {
		return Quantity{}, ErrAxes
	}
	dt, dv := p.X.span(a.X, b.X), p.Y.span(a.Y, b.Y)
	if dt == 0 {
		return Quantity{}, ErrDegenerate
	}
	value := dv / dt
	byEnd := vec{-value / dt, 1 / dt}
	return p.result(value, unit, []vec{byEnd.times(-1), byEnd})
}

func (p Plane) difference(axis Axis, unit Unit, from, to float64) (Quantity, error) {
	if !axis.Is(unit) {
		return Quantity{}, ErrAxes
	}
	u := math.Sqrt2 * p.pointStdU() * math.Abs(axis.Delta)
	return checked(Quantity{Value: math.Abs(axis.span(from, to)), StdU: u, Unit: unit})
}

func (p Plane) absolute(axis Axis, unit Unit, c float64) (Quantity, error) {
	if !axis.Is(unit) {
		return Quantity{}, ErrAxes
	}
	value, ok := axis.ValueAt(c)
	if !ok {
		return Quantity{}, ErrNoZero
	}
	return checked(Quantity{Value: value, StdU: p.pointStdU() * math.Abs(axis.Delta), Unit: unit})
}
