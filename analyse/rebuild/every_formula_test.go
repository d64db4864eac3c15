package rebuild

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"leadline/analyse"
	"leadline/analyse/physical"
	"leadline/analyse/stats/montecarlo"
	"leadline/ingest"
)

// tried is a formula with a calibration that it fits and points for it. Every formula of
// the table is in the list, so that one that is added later is tested too.
type tried struct {
	name  string
	f     *formula
	plane physical.Plane
	pts   []ingest.Point
}

// everyFormula leaves out the interval between frames, which has no points
// (TestMonteCarloOfIntervals).
func everyFormula(t *testing.T) []tried {
	t.Helper()
	zero := ingest.Some(physical.Zero{Pixel: 200})
	planes := map[string]physical.Plane{
		"2D": {X: physical.Axis{Unit: physical.MM, Delta: -0.1}, Y: physical.Axis{Unit: physical.MM, Delta: 0.13, Zero: zero}},
		// A circle has one diameter on square pixels only.
		"square 2D": {X: physical.Axis{Unit: physical.MM, Delta: 0.1}, Y: physical.Axis{Unit: physical.MM, Delta: 0.1, Zero: zero}},
		"M-mode":    {X: physical.Axis{Unit: physical.S, Delta: 0.005}, Y: physical.Axis{Unit: physical.MM, Delta: 0.2, Zero: zero}},
		"spectral":  {X: physical.Axis{Unit: physical.S, Delta: 0.004}, Y: physical.Axis{Unit: physical.CMPerS, Delta: -0.5, Zero: zero}},
		"ECG":       {X: physical.Axis{Unit: physical.S, Delta: -0.004}},
	}
	shapes := map[ingest.Geometry]string{
		ingest.GeometryPoint: "40,60.5", ingest.GeometryLine: "40,60 190,150", ingest.GeometryCircle: "100,100 160,130",
		ingest.GeometryPolyline: "40,190 90,60 180,170", ingest.GeometryPolygon: "40,200.2 90,60 150,80 180,200.7",
		ingest.GeometryEllipse: "40,100 200,120 120,40 110,180",
		ingest.GeometryDiscs:   "40,100 220,110 40,60 120,40 220,70 225,140 130,165 38,150",
	}
	var list []tried
	for i := range formulas {
		f := &formulas[i]
		fitting := 0
		for _, name := range []string{"2D", "square 2D", "M-mode", "spectral", "ECG"} {
			plane := planes[name]
			if f.compute == nil || !f.fits(plane) || f.absolute && !plane.Y.Zero.Set {
				continue
			}
			if f.geometry == ingest.GeometryCircle && f.quantity == analyse.Distance && name == "2D" {
				continue
			}
			fitting++
			list = append(list, tried{fmt.Sprintf("%s of a %s, %s", f.quantity, f.geometry, name), f, plane, points(shapes[f.geometry])})
		}
		if fitting == 0 && f.geometry != ingest.GeometryFrames {
			t.Errorf("%s of a %s: tried nowhere", f.quantity, f.geometry)
		}
	}
	return list
}

// times is the plane with other units of length, time and velocity.
func times(p physical.Plane, length, time, velocity float64) physical.Plane {
	for _, axis := range []*physical.Axis{&p.X, &p.Y} {
		axis.Delta *= map[physical.Unit]float64{physical.MM: length, physical.S: time, physical.CMPerS: velocity, "": 1}[axis.Unit]
	}
	return p
}

// Other units, and other scales, change value and u by the powers of the quantity and by
// nothing else; a picture turned upside down or mirrored, its axes turned round with it,
// changes nothing.
func TestUnitsOfEveryFormula(t *testing.T) {
	for _, c := range everyFormula(t) {
		q, err := c.f.compute(c.plane, c.pts)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		p := powersOf[c.f.quantity]
		got, err := c.f.compute(times(c.plane, 3, 0.7, 1.9), c.pts)
		k := math.Pow(3, p.length) * math.Pow(0.7, p.time) * math.Pow(1.9, p.velocity)
		if err != nil || !sameTo9(got.Value, k*q.Value) || !sameTo9(got.StdU, k*q.StdU) {
			t.Errorf("%s: %v, scaled by %v: %v %v", c.name, q, k, got, err)
		}
		mirrored := c.plane
		mirrored.X.Delta, mirrored.Y.Delta = -c.plane.X.Delta, -c.plane.Y.Delta
		if mirrored.Y.Zero.Set {
			mirrored.Y.Zero.Value.Pixel = 299 // the row that 200 becomes of 500
		}
		turned := slices.Clone(c.pts)
		for i := range turned {
			turned[i].X, turned[i].Y = 500-turned[i].X, 500-turned[i].Y
		}
		got, err = c.f.compute(mirrored, turned)
		if err != nil || !sameTo9(got.Value, q.Value) || !sameTo9(got.StdU, q.StdU) {
			t.Errorf("%s: %v, mirrored %v %v", c.name, q, got, err)
		}
		// Drawn from the other end, by points in the other order, it is the same shape; a
		// circle has a centre.
		if c.f.geometry == ingest.GeometryCircle || c.f.geometry == ingest.GeometryDiscs {
			continue
		}
		slices.Reverse(turned)
		got, err = c.f.compute(mirrored, turned)
		if err != nil || !sameTo9(got.Value, q.Value) || !sameTo9(got.StdU, q.StdU) {
			t.Errorf("%s: %v, from the other end %v %v", c.name, q, got, err)
		}
	}
}

func sameTo9(a, b float64) bool {
	return math.Abs(a-b) <= 1e-9*math.Max(math.Abs(a), math.Abs(b))
}

// Monte Carlo (JCGM 101:2008 clause 7) of every formula with all that U may hold: each
// coordinate placed by half a pixel and the scales of length, time and velocity, drawn
// from a rectangle of ±3 %; u within 5 %.
func TestMonteCarloOfEveryFormula(t *testing.T) {
	const tolerance = 0.03
	rng := rand.New(rand.NewPCG(41, 42))
	rule := &analyse.UncertaintyRule{ScaleTolerance: tolerance}
	for _, c := range everyFormula(t) {
		q, err := c.f.compute(c.plane, c.pts)
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		q, _ = withScale(q, c.f.quantity, rule, nil)
		hand := montecarlo.Hand{RNG: rng, StdU: physical.CoordinateStdU}
		placed := make([]ingest.Point, len(c.pts))
		off := func() float64 { return 1 + tolerance*(2*rng.Float64()-1) }
		d := montecarlo.Draw(20_000, func() (float64, bool) {
			hand.Next()
			hand.Place(placed, c.pts)
			v, err := c.f.compute(times(c.plane, off(), off(), off()), placed)
			return v.Value, err == nil
		})
		if d.Refused > 0 || !(math.Abs(q.StdU/d.StdU-1) < 0.05) {
			t.Errorf("%s: u %.5g, Monte Carlo %.5g (%d refused)", c.name, q.StdU, d.StdU, d.Refused)
		}
	}
}

// Monte Carlo of the interval between two frames: each moment lies anywhere in its
// frame, and a rate that was rounded to whole frames a second anywhere within half of
// one; u within 5 %.
func TestMonteCarloOfIntervals(t *testing.T) {
	rng := rand.New(rand.NewPCG(43, 44))
	for _, c := range clips {
		if c.source == "" {
			continue
		}
		img := picture("timed")
		img.Image.Frames, img.Image.Timing = 5, c.t
		clock, ok := clockOf(img.Image)
		if !ok {
			t.Fatalf("%s: no timing", c.name)
		}
		step := func(frame int, period float64) float64 {
			if len(clock.stepsMS) > 0 {
				return clock.stepsMS[min(frame, len(clock.stepsMS)-1)] / 1000
			}
			return period
		}
		d := montecarlo.Draw(20_000, func() (float64, bool) {
			period := clock.periodS
			if clock.rateHz > 0 {
				period = 1 / (clock.rateHz + rng.Float64() - 0.5)
			}
			return step(2, period)*(1-rng.Float64()) + step(3, period) + step(4, period)*rng.Float64(), true
		})
		q := clock.between(2, 4, nil)
		if math.Abs(q.StdU/d.StdU-1) > 0.05 {
			t.Errorf("%s: u %.5g, Monte Carlo %.5g", c.name, q.StdU, d.StdU)
		}
	}
}
