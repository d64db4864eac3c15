package physical

import (
	"fmt"
	"math"

	"leadline/ingest"
)

// In a strip the axes have different units: a slanted line is no distance, but a
// duration along it and a depth or velocity difference across it (PS3.3
// C.8.5.5.1.16). Differences are magnitudes; 0 is a value like any other.

// Duration is |Δx·δx| in s; the x axis must be time. The line must not cross the
// write line of a sweeping strip (C.8.5.5.1.16.7), which the header cannot rule out.
func (p Plane) Duration(a, b ingest.Point) (Quantity, error) {
	return p.difference(p.X, S, a, b, vec{1, 0})
}

// DepthDifference is |Δy·δy| in mm; the y axis must be a length.
func (p Plane) DepthDifference(a, b ingest.Point) (Quantity, error) {
	return p.difference(p.Y, MM, a, b, vec{0, 1})
}

// VelocityDifference is |Δy·δy| in cm/s; the y axis must be a velocity.
func (p Plane) VelocityDifference(a, b ingest.Point) (Quantity, error) {
	return p.difference(p.Y, CMPerS, a, b, vec{0, 1})
}

// Depth is the value at a point of a y axis that is a length, in mm, signed as
// the file gives it. ErrNoZero where the region has no reference pixel.
func (p Plane) Depth(pt ingest.Point) (Quantity, error) { return p.absolute(MM, pt) }

// Velocity is the value at a point of a y axis that is a velocity, in cm/s, signed
// as the file gives it. ErrNoZero where the region has no reference pixel.
func (p Plane) Velocity(pt ingest.Point) (Quantity, error) { return p.absolute(CMPerS, pt) }

// Slope is the change of depth with time along a line in an M-mode strip, in
// cm/s, positive where the depth as the file scales it grows with time. A line
// without duration is degenerate; where it spans only a few columns the linear
// model of uncertainty does not hold (a ratio with a small denominator).
func (p Plane) Slope(a, b ingest.Point) (Quantity, error) {
	const mmPerCM = 10
	return p.rate(MM, CMPerS, mmPerCM, a, b)
}

// Acceleration is the change of velocity with time along a line in a spectral
// strip, in cm/s², signed as the file scales it. Refused and doubtful as Slope.
func (p Plane) Acceleration(a, b ingest.Point) (Quantity, error) {
	return p.rate(CMPerS, CMPerS2, 1, a, b)
}

// CycleRate is n · 60 / |Δx·δx| in 1/min: how often a minute what comes round n times
// from end to end of a line in a strip does so. The x axis must be time. A line without
// duration is degenerate; over few columns it is doubtful as Slope.
func (p Plane) CycleRate(a, b ingest.Point, n int) (Quantity, error) {
	if !p.X.Is(S) {
		return Quantity{}, ErrAxes
	}
	span := p.X.span(a.X, b.X)
	if span == 0 {
		return Quantity{}, ErrDegenerate
	}
	value := float64(n) * secondsPerMin / math.Abs(span)
	if p.Work != nil {
		p.Work.Points = []ingest.Point{a, b}
		p.Work.value("duration", S, math.Abs(span), "abs((%v - %v) * %v)", b.X, a.X, p.X.Delta)
		p.Work.value("cycles * 60 / duration", PerMin, value, fmt.Sprintf("%d * 60 / %%v", n), math.Abs(span))
	}
	byEnd := vec{-value / span * p.X.Delta, 0}
	return p.perPixel(value, PerMin, []ingest.Point{a, b}, byEnd.times(-1), byEnd)
}

// secondsPerMin turns cycles a second into cycles a minute.
const secondsPerMin = 60

// rate is Δy·δy / (Δx·δx) / per, where so many of the unit of the axis are one of
// the result's. Both ends of both axes enter once.
func (p Plane) rate(rise, unit Unit, per float64, a, b ingest.Point) (Quantity, error) {
	if !p.X.Is(S) || !p.Y.Is(rise) {
		return Quantity{}, ErrAxes
	}
	dt, dv := p.X.span(a.X, b.X), p.Y.span(a.Y, b.Y)
	if dt == 0 {
		return Quantity{}, ErrDegenerate
	}
	value := dv / dt / per
	byEnd := vec{-value / dt, 1 / dt / per}
	if p.Work != nil {
		p.Work.Points = []ingest.Point{a, b}
		p.Work.delta(p, 0, 1, "dt", "rise", vec{dt, dv})
		p.Work.rate("rise / dt", unit, value, dv, dt, per)
	}
	return p.result(value, unit, []ingest.Point{a, b}, []vec{byEnd.times(-1), byEnd})
}

// difference is measured along one axis only, which the direction picks.
func (p Plane) difference(axis Axis, unit Unit, a, b ingest.Point, direction vec) (Quantity, error) {
	if !axis.Is(unit) {
		return Quantity{}, ErrAxes
	}
	from, to := at(a).dot(direction), at(b).dot(direction)
	value := math.Abs(axis.span(from, to))
	if p.Work != nil {
		p.Work.Points = []ingest.Point{a, b}
		p.Work.value("difference", unit, value, "abs((%v - %v) * %v)", to, from, axis.Delta)
	}
	byEnd := direction.times(axis.Delta * math.Copysign(1, axis.span(from, to)))
	return p.perPixel(value, unit, []ingest.Point{a, b}, byEnd.times(-1), byEnd)
}

func (p Plane) absolute(unit Unit, pt ingest.Point) (Quantity, error) {
	if !p.Y.Is(unit) {
		return Quantity{}, ErrAxes
	}
	value, ok := p.Y.ValueAt(pt.Y)
	if !ok {
		return Quantity{}, ErrNoZero
	}
	if p.Work != nil {
		p.Work.Points = []ingest.Point{pt}
		p.Work.at("value at the point", p.Y, pt.Y, value)
	}
	return p.perPixel(value, unit, []ingest.Point{pt}, vec{0, p.Y.Delta})
}
