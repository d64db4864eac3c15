package demo

import (
	"math"

	"leadline/ingest"
)

// The strips below a 2D picture: time runs to the right, the newest column is
// time zero and what is older is negative (PS3.3 C.8.5.5.1.16.2).

// regionMMode makes an M-mode strip that shows seconds of the depths from 0 to
// depthCM.
func regionMMode(x0, y0, x1, y1 int, seconds, depthCM float64) region {
	return region{
		format: ingest.FormatMMode, dataType: dataTissue,
		x0: x0, y0: y0, x1: x1, y1: y1,
		ref:   &[2]int{x1 - x0, 0},
		unitX: ingest.UnitSecond, unitY: ingest.UnitCM,
		deltaX: seconds / float64(x1-x0+1), deltaY: depthCM / float64(y1-y0+1),
	}
}

// regionSpectral makes a spectral strip from low to high cm/s. Velocity grows
// upwards, so the increment per row is negative (PS3.3 C.8.5.5.1.17), and the
// reference pixel lies on the baseline.
func regionSpectral(x0, y0, x1, y1 int, seconds, low, high float64, dataType int) region {
	delta := (high - low) / float64(y1-y0)
	return region{
		format: ingest.FormatSpectral, dataType: dataType,
		x0: x0, y0: y0, x1: x1, y1: y1,
		ref:   &[2]int{x1 - x0, int(math.Round(high / delta))},
		unitX: ingest.UnitSecond, unitY: ingest.UnitCMPerS,
		deltaX: seconds / float64(x1-x0+1), deltaY: -delta,
	}
}

// soundCMPerS is the speed of sound that devices assume.
const soundCMPerS = 154000

// pulse sets how often a pulsed spectrum is taken: as often as its range needs, twice
// the Nyquist limit c PRF / (4 f0 cos θ). A continuous wave is not pulsed.
func (r *region) pulse(angleDeg float64, frequencyKHz int) {
	r.angleDeg, r.frequencyKHz = angleDeg, frequencyKHz
	if r.dataType == dataPW {
		span := math.Abs(r.deltaY) * float64(r.y1-r.y0+1)
		r.prfHz = int(math.Ceil(span * 2000 * float64(frequencyKHz) * math.Cos(angleDeg*math.Pi/180) / soundCMPerS))
	}
}

// walls are the interfaces that an M-mode line meets, in depth order, with the
// echo of the layer below each. top is the echo above the first.
type walls struct {
	top    float64
	layers []layer
}

type layer struct {
	depth func(phase float64) float64
	below float64
}

// moving is a depth that goes from diastole to systole and back.
func moving(diastole, systole float64) func(phase float64) float64 {
	return func(phase float64) float64 { return diastole + (systole-diastole)*contraction(phase) }
}

func (w walls) at(depth, phase float64) float64 {
	level, near := w.top, 0.0
	for _, l := range w.layers {
		d := depth - l.depth(phase)
		if d > 0 {
			level = l.below
		}
		near = math.Max(near, 0.85*math.Exp(-(d*d)/(0.04*0.04)))
	}
	return math.Max(level, near)
}

// drawMMode paints a strip; rate is in cycles per second.
func drawMMode(c canvas, r region, w walls, rate float64, seed uint64) {
	for py := r.y0; py <= r.y1; py++ {
		for px := r.x0; px <= r.x1; px++ {
			t, depth := r.physical(centre(px, py))
			grain := speckle(t*60, depth/0.035, seed)
			c.grey(px, py, w.at(depth, cycle(t, rate))*(0.35+0.9*grain))
		}
	}
	ruler(c, r, scaleLook{})
	timeTicks(c, r)
}

// envelope is the highest velocity in cm/s at a phase of the cycle, signed.
type envelope func(phase float64) float64

// drawSpectral paints a spectrum that is filled from the baseline to the envelope,
// brighter towards it, and a scale at every step cm/s.
func drawSpectral(c canvas, r region, env envelope, rate, step float64, seed uint64) {
	for px := r.x0; px <= r.x1; px++ {
		t, _ := r.physical(centre(px, r.y0))
		peak := env(cycle(t, rate))
		for py := r.y0; py <= r.y1; py++ {
			_, v := r.physical(centre(px, py))
			grain := speckle(t*220, v/3.2, seed)
			c.grey(px, py, spectrum(v, peak, math.Abs(r.deltaY))*(0.25+grain)+0.03*grain)
		}
	}
	baseline := r.y0 + r.ref[1]
	c.bar(r.x0, baseline, r.x1, baseline, 0.55)
	for v := math.Ceil(r.lowest()/step) * step; v <= r.highest(); v += step {
		row := int(math.Round(r.at(0, v).Y - 0.5))
		c.bar(r.x1-5, row, r.x1, row, 0.9)
	}
	timeTicks(c, r)
}

// spectrum is how much moves at v where the fastest moves at peak; it fades out
// over two rows beyond it.
func spectrum(v, peak, row float64) float64 {
	if peak < 0 {
		v, peak = -v, -peak
	}
	switch {
	case peak < 2*row || v < 0:
		return 0
	case v <= peak:
		return 0.25 + 0.7*v/peak
	}
	return 0.9 * math.Max(0, 1-(v-peak)/(2*row))
}

func (r region) highest() float64 { _, v := r.physical(centre(r.x0, r.y0)); return v }
func (r region) lowest() float64  { _, v := r.physical(centre(r.x0, r.y1)); return v }

// cycle is the phase at time t, which is negative in strips.
func cycle(t, rate float64) float64 { _, f := math.Modf(t*rate + 1000); return f }

// timeTicks marks every 0.2 s at the lower edge of a strip.
func timeTicks(c canvas, r region) {
	for k := 0; ; k++ {
		x := int(math.Round(r.at(-0.2*float64(k), 0).X - 0.5))
		if x < r.x0 {
			return
		}
		c.bar(x, r.y1-2, x, r.y1, 0.8)
	}
}
