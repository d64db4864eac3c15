package physical

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"leadline/ingest"
)

// The reasons for which a traced envelope has no value.
var (
	// ErrBackwards: the trace turns back in time, so that it has two velocities at
	// one moment.
	ErrBackwards = errors.New("trace runs backwards in time, so a moment has more than one velocity")
	// ErrOffBaseline: a closed outline does not run back along the zero line.
	ErrOffBaseline = errors.New("closed outline does not run back along the zero line in one piece, so which part of it is the envelope is not known")
)

// baselineSlack is how far a point may lie from the zero line and still be on it,
// in pixels: the line is drawn one pixel wide.
const baselineSlack = 1.0

// Envelope is a velocity traced over time: its points in s and cm/s, times never
// falling. Between the points the velocity is taken as a straight line.
type Envelope struct {
	plane Plane
	at    []vec
	// pixels are the points in pixels, beside at.
	pixels []ingest.Point
	// wayBack counts the points of a closed outline that were left out.
	wayBack int
}

// Trace reads points in a spectral region as an envelope. The time axis must be in
// s, the velocity axis in cm/s and with a zero: an integral of velocity has no
// meaning without the baseline. A trace drawn from right to left is turned round. A
// trace that turns back in time is refused.
//
// A closed outline (the last point joined to the first) must run back along the
// zero line, within a pixel; the rest of it is the envelope.
func (p Plane) Trace(points []ingest.Point, closed bool) (Envelope, error) {
	if !p.X.Is(S) || !p.Y.Is(CMPerS) {
		return Envelope{}, ErrAxes
	}
	if !p.Y.Zero.Set {
		return Envelope{}, ErrNoZero
	}
	if closed {
		points = ring(points)
	}
	if len(points) < 2 {
		return Envelope{}, ErrPointCount
	}
	e := Envelope{plane: p, at: make([]vec, len(points)), pixels: points}
	for i, pt := range points {
		v, _ := p.Y.ValueAt(pt.Y)
		e.at[i] = vec{pt.X * p.X.Delta, v}
	}
	if closed {
		if err := e.open(); err != nil {
			return Envelope{}, err
		}
	}
	err := e.order()
	return e, err
}

// open leaves out the way back along the zero line, but for its two ends. Points of
// the envelope that lie near zero stay: they go on in the direction of the envelope,
// the way back goes against it.
func (e *Envelope) open() error {
	n := len(e.at)
	first, runs := 0, 0
	for i := range n {
		if e.onZero(i) && !e.onZero(i+1) {
			first, runs = i, runs+1
		}
	}
	if runs != 1 {
		return ErrOffBaseline
	}
	last := first + 1
	for !e.onZero(last) {
		last++
	}
	along := func(i, j int) float64 { return e.at[(j+n)%n].x - e.at[(i+n)%n].x }
	direction := along(first, last)
	if direction == 0 {
		return ErrOffBaseline
	}
	for last-first < n-1 && e.onZero(last+1) && along(last, last+1)*direction > 0 {
		last++
	}
	for last-first < n-1 && e.onZero(first-1) && along(first-1, first)*direction > 0 {
		first--
	}
	at, pixels := make([]vec, 0, last-first+1), make([]ingest.Point, 0, last-first+1)
	for i := first; i <= last; i++ {
		at, pixels = append(at, e.at[(i+n)%n]), append(pixels, e.pixels[(i+n)%n])
	}
	e.at, e.pixels, e.wayBack = at, pixels, n-len(at)
	return nil
}

// onZero tells that a point of an outline lies on the zero line.
func (e Envelope) onZero(i int) bool {
	n := len(e.at)
	return math.Abs(e.at[(i+n)%n].y) <= baselineSlack*math.Abs(e.plane.Y.Delta)
}

// order turns the trace so that time grows, and refuses one that does not.
func (e *Envelope) order() error {
	if e.Duration() < 0 {
		slices.Reverse(e.at)
		e.pixels = slices.Clone(e.pixels) // the caller's
		slices.Reverse(e.pixels)
	}
	for i := 1; i < len(e.at); i++ {
		if e.at[i].x < e.at[i-1].x {
			return ErrBackwards
		}
	}
	if e.Duration() == 0 {
		return ErrDegenerate
	}
	return nil
}

// Duration is the time from the first to the last point in s.
func (e Envelope) Duration() float64 { return e.at[len(e.at)-1].x - e.at[0].x }

// WayBack is the number of points of a closed outline that lead back along the zero line
// and are no part of the envelope.
func (e Envelope) WayBack() int { return e.wayBack }

// BothSides tells that the trace has points above and below the zero line, more
// than a pixel away from it: its integral is then the net one.
func (e Envelope) BothSides() bool {
	up, down := false, false
	for i, p := range e.at {
		off := !e.onZero(i)
		up, down = up || off && p.y > 0, down || off && p.y < 0
	}
	return up && down
}

// VTI is the velocity-time integral in mm, by the trapezoid rule, which is exact for
// straight pieces; signed: negative for flow away from the transducer.
//
//	VTI = Σ (v_i + v_{i+1})/2 · (t_{i+1} − t_i)
func (e Envelope) VTI() (Quantity, error) {
	const mmPerCM = 10
	value, by := e.integral("cm", midpoint)
	if w := e.plane.Work; w != nil {
		w.value("integral", MM, value*mmPerCM, "%v * 10", value)
	}
	return e.result(value*mmPerCM, MM, by, mmPerCM)
}

// Peak is the velocity that is furthest from zero, in cm/s, with its sign. It is
// one point's, the first of several; where others lie within their uncertainty of
// it, a peak read so is biased away from zero and the linear model does not hold.
func (e Envelope) Peak() (Quantity, error) {
	best := 0
	for i := range e.at {
		if math.Abs(e.at[i].y) > math.Abs(e.at[best].y) {
			best = i
		}
	}
	if w := e.plane.Work; w != nil {
		w.Points = e.pixels
		w.at(fmt.Sprintf("velocity of P%d, the furthest from zero", best+1), e.plane.Y, e.pixels[best].Y, e.at[best].y)
	}
	by := make([]vec, len(e.at))
	by[best] = vec{0, 1}
	return e.result(e.at[best].y, CMPerS, by, 1)
}

// Mean is the velocity averaged over the time of the trace, in cm/s: VTI / T. Of a
// trace of the highest velocities it is the time-averaged peak velocity, of a trace
// of the mean velocities the time-averaged mean; the points do not tell which.
func (e Envelope) Mean() (Quantity, error) {
	value, by := e.average(CMPerS, "cm", midpoint)
	return e.result(value, CMPerS, by, 1)
}

// MeanGradient is the simplified Bernoulli gradient 4·v² (v in m/s) averaged over
// the time of the trace, in mmHg. It is not the gradient of the mean velocity. On a
// straight piece from a to b the mean of v² is (a² + ab + b²)/3.
func (e Envelope) MeanGradient() (Quantity, error) {
	value, by := e.average(MMHg, "mm[Hg].s", gradient)
	return e.result(value, MMHg, by, 1)
}

// piece is the mean of a function of the velocity along a straight piece, with its
// derivatives by both ends, and its formula with what stands in it.
type piece struct {
	f       func(a, b float64) (m, byA, byB float64)
	formula string
	args    func(a, b float64) []float64
}

var midpoint = piece{
	f:       func(a, b float64) (m, byA, byB float64) { return (a + b) / 2, 0.5, 0.5 },
	formula: "(%v + %v) / 2",
	args:    func(a, b float64) []float64 { return []float64{a, b} },
}

// gradient is 4·v² with v in m/s, for velocities in cm/s.
var gradient = piece{
	f: func(a, b float64) (m, byA, byB float64) {
		const k = 4 / (100.0 * 100.0)
		return k * (a*a + a*b + b*b) / 3, k * (2*a + b) / 3, k * (a + 2*b) / 3
	},
	formula: "4 * (%v^2 + %v * %v + %v^2) / 100^2 / 3",
	args:    func(a, b float64) []float64 { return []float64{a, a, b, b} },
}

// integral sums over the pieces the mean of a function of the velocity, times their
// duration, with its derivatives by the points.
func (e Envelope) integral(unit Unit, mean piece) (float64, []vec) {
	total, by := 0.0, make([]vec, len(e.at))
	if e.plane.Work != nil {
		e.explainPlaces()
	}
	for i := 1; i < len(e.at); i++ {
		p, q := e.at[i-1], e.at[i]
		dt := q.x - p.x
		m, byA, byB := mean.f(p.y, q.y)
		total += m * dt
		if e.plane.Work != nil {
			e.explainPiece(i, unit, m*dt, mean)
		}
		by[i-1] = by[i-1].plus(vec{-m, byA * dt})
		by[i] = by[i].plus(vec{m, byB * dt})
	}
	if w := e.plane.Work; w != nil {
		w.sum("sum over the pieces", unit, total, "piece ")
	}
	return total, by
}

// average divides the integral by the duration, whose ends are points of it.
func (e Envelope) average(unit, integrated Unit, mean piece) (float64, []vec) {
	total, by := e.integral(integrated, mean)
	t := e.Duration()
	if w := e.plane.Work; w != nil {
		w.value("T", S, t, "%v - %v", e.at[len(e.at)-1].x, e.at[0].x)
		w.value("average", unit, total/t, "%v / %v", total, t)
	}
	value, last := total/t, len(by)-1
	for i := range by {
		by[i] = by[i].over(t)
	}
	by[0].x += value / t
	by[last].x -= value / t
	return value, by
}

func (e Envelope) result(value float64, unit Unit, by []vec, k float64) (Quantity, error) {
	for i := range by {
		by[i] = by[i].times(k)
	}
	return e.plane.result(value, unit, e.pixels, by)
}
