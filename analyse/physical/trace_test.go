package physical

import (
	"errors"
	"math"
	"testing"

	"leadline/ingest"
)

// traced computes f of the envelope through the points.
func traced(f func(Envelope) (Quantity, error), closed bool) func(Plane, pts) (Quantity, error) {
	return func(p Plane, q pts) (Quantity, error) {
		e, err := p.Trace(q, closed)
		if err != nil {
			return Quantity{}, err
		}
		return f(e)
	}
}

// The strips below have their baseline at the centre of row 100 (coordinate 100.5),
// 5 ms a column and −0.5 cm/s a row: row coordinate 100.5 − 2v is the velocity v.
var envelope = strip(CMPerS, 0.005, -0.5)

// tv makes points of time in s and velocity in cm/s on the strip above.
func tv(values ...float64) pts {
	out := make(pts, len(values)/2)
	for i := range out {
		out[i] = ingest.Point{X: 10 + values[2*i]/0.005, Y: 100.5 - values[2*i+1]/0.5}
	}
	return out
}

// triangle rises from 0 to 80 cm/s in 0.1 s and falls back in 0.2 s.
var triangle = tv(0, 0, 0.1, 80, 0.3, 0)

var traces = []geometryCase{
	// ½ · 0.3 s · 80 cm/s = 12 cm.
	{"VTI of a triangle", traced(Envelope.VTI, false), envelope, triangle, 120, MM},
	{"VTI drawn from right to left", traced(Envelope.VTI, false), envelope, tv(0.3, 0, 0.1, 80, 0, 0), 120, MM},
	{"VTI away from the transducer", traced(Envelope.VTI, false), envelope, tv(0, 0, 0.1, -80, 0.3, 0), -120, MM},
	// Closed by way of the baseline, begun at the peak: the way back adds nothing.
	{"VTI of a closed outline", traced(Envelope.VTI, true), envelope, tv(0.1, 80, 0.3, 0, 0.15, 0.2, 0, 0, 0.1, 80), 120, MM},
	// 20 cm/s over 0.1 s, a step of no time, 40 cm/s over 0.1 s: 2 + 4 cm.
	{"VTI with an upright step", traced(Envelope.VTI, false), envelope, tv(0, 20, 0.1, 20, 0.1, 40, 0.2, 40), 60, MM},
	// Back flow counts against: 12 − ½·0.1·20 = 11 cm.
	{"net VTI of both sides", traced(Envelope.VTI, false), envelope, tv(0, 0, 0.1, 80, 0.3, 0, 0.35, -20, 0.4, 0), 110, MM},
	// check-values.md row 10: half sine, 80 cm/s, 190 ms, trapezoids of 1 ms: 9.6764 cm.
	{"VTI of a half sine", traced(Envelope.VTI, false), envelope, halfSine(190), 96.764, MM},
	{"peak of a triangle", traced(Envelope.Peak, false), envelope, triangle, 80, CMPerS},
	{"peak keeps its sign", traced(Envelope.Peak, false), envelope, tv(0, 0, 0.1, -80, 0.3, 30), -80, CMPerS},
	{"mean of a triangle", traced(Envelope.Mean, false), envelope, triangle, 40, CMPerS},
	// 15.5 cm/s over a whole beat: 30 falling to 9 in 0.4 s is 19.5.
	{"mean of a beat", traced(Envelope.Mean, false), envelope, tv(0, 30, 0.4, 9), 19.5, CMPerS},
	// Mean of v² over a triangle is peak²/3: 4 · 0.8² / 3 mmHg.
	{"mean gradient of a triangle", traced(Envelope.MeanGradient, false), envelope, triangle, 4 * 0.64 / 3, MMHg},
	// 4 · 2.5² = 25 mmHg (check-values.md row 8), the same at every moment.
	{"mean gradient at one velocity", traced(Envelope.MeanGradient, false), envelope, tv(0, 250, 0.2, 250), 25, MMHg},
}

// halfSine is an envelope in steps of 1 ms.
func halfSine(steps int) pts {
	var values []float64
	for i := range steps + 1 {
		values = append(values, float64(i)*0.001, 80*math.Sin(math.Pi*float64(i)/float64(steps)))
	}
	return tv(values...)
}

func TestTraces(t *testing.T) {
	for _, c := range traces {
		tolerance := 1e-9 * math.Abs(c.want)
		if c.name == "VTI of a half sine" {
			tolerance = 5e-4 // the source gives four decimals of a cm
		}
		q, err := c.f(c.plane, c.points)
		if err != nil || q.Unit != c.unit || math.Abs(q.Value-c.want) > tolerance {
			t.Errorf("%s: got %.12g %s %v, want %.12g %s", c.name, q.Value, q.Unit, err, c.want, c.unit)
		}
	}
}

// A strip twice as fast holds half of the time integral and the same means; its
// velocity scale twice as large doubles velocities and makes gradients fourfold; both
// axes turned round turn the sign only.
func TestTraceScales(t *testing.T) {
	fast, high, turned := envelope, envelope, envelope
	fast.X.Delta, high.Y.Delta = 0.0025, -1
	turned.X.Delta, turned.Y.Delta = -0.005, 0.5
	for _, c := range []struct {
		name                  string
		f                     func(Envelope) (Quantity, error)
		byTime, byVelocity, s float64
	}{
		{"VTI", Envelope.VTI, 0.5, 2, -1}, {"peak", Envelope.Peak, 1, 2, -1},
		{"mean", Envelope.Mean, 1, 2, -1}, {"mean gradient", Envelope.MeanGradient, 1, 4, 1},
	} {
		f := traced(c.f, false)
		q, _ := f(envelope, triangle)
		for _, v := range []struct {
			plane Plane
			k     float64
		}{{fast, c.byTime}, {high, c.byVelocity}, {turned, c.s}} {
			got, err := f(v.plane, triangle)
			if err != nil || !close9(got.Value, q.Value*v.k) || !close9(got.StdU, q.StdU*math.Abs(v.k)) {
				t.Errorf("%s: %v, scaled by %v: %v %v", c.name, q, v.k, got, err)
			}
		}
	}
}

// A baseline read one row off moves every mean by one row, whatever the shape.
func TestTraceNeedsItsBaseline(t *testing.T) {
	off := envelope
	off.Y.Zero.Value.Pixel++
	for _, c := range traces {
		if c.unit == CMPerS {
			a, _ := c.f(envelope, c.points)
			b, err := c.f(off, c.points)
			if err != nil || math.Abs(b.Value-a.Value-0.5) > 1e-9 {
				t.Errorf("%s: %v, baseline off by a row: %v %v", c.name, a, b, err)
			}
		}
	}
}

func TestTraceRefusals(t *testing.T) {
	noZero := envelope
	noZero.Y.Zero = ingest.Optional[Zero]{}
	for _, c := range []struct {
		name   string
		plane  Plane
		points pts
		closed bool
		want   error
	}{
		{"backwards", envelope, tv(0, 0, 0.2, 80, 0.1, 50, 0.3, 0), false, ErrBackwards},
		{"no zero", noZero, triangle, false, ErrNoZero},
		{"2D", lengths(0.1, 0.1), triangle, false, ErrAxes},
		{"hertz", strip(Hz, 0.005, -20), triangle, false, ErrAxes},
		{"M-mode", strip(MM, 0.005, 0.2), triangle, false, ErrAxes},
		{"one point", envelope, tv(0, 0), false, ErrPointCount},
		{"no duration", envelope, tv(0, 0, 0, 80), false, ErrDegenerate},
		{"closed above the baseline", envelope, tv(0, 10, 0.1, 80, 0.3, 10), true, ErrOffBaseline},
		{"closed 1.2 pixels above the baseline", envelope, tv(0, 0.6, 0.1, 80, 0.3, 0.6), true, ErrOffBaseline},
		{"closed on one foot", envelope, tv(0, 0, 0.1, 80, 0.3, 40), true, ErrOffBaseline},
		{"closed, touching zero twice", envelope, tv(0, 0, 0.1, 80, 0.2, 0, 0.3, 50, 0.4, 0), true, ErrOffBaseline},
		{"closed, turning back", envelope, tv(0, 0, 0.2, 80, 0.1, 40, 0.3, 0), true, ErrBackwards},
		{"closed on the baseline", envelope, tv(0, 0, 0.1, 0.1, 0.3, 0), true, ErrOffBaseline},
		{"not a number", envelope, pts{{X: math.NaN(), Y: 1}, {X: 2, Y: 1}}, false, nil},
	} {
		_, err := traced(Envelope.VTI, c.closed)(c.plane, c.points)
		if c.want == nil && err == nil || c.want != nil && !errors.Is(err, c.want) {
			t.Errorf("%s: got %v, want %v", c.name, err, c.want)
		}
	}
}

func TestBothSides(t *testing.T) {
	for _, c := range []struct {
		points pts
		want   bool
	}{{triangle, false}, {tv(0, 0, 0.1, 80, 0.2, -0.3), false}, {tv(0, 0, 0.1, 80, 0.2, -5), true}} {
		if e, err := envelope.Trace(c.points, false); err != nil || e.BothSides() != c.want {
			t.Errorf("%v: %v", c.points, err)
		}
	}
}
