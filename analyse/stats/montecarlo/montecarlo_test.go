package montecarlo

import (
	"math"
	"math/rand/v2"
	"testing"

	"leadline/ingest"
)

// JCGM 101:2008 9.2.3 (from memory, shared/reference/measurements.md C13): the sum of
// four independent rectangular quantities of mean 0 and standard uncertainty 1 has
// u = 2.00 and a 95 % interval of ±3.88, where the normal distribution of the GUM gives
// 3.92. By the distribution function of the sum (Irwin and Hall; computed) the half
// width is 2√3·(2 − 0.6^¼) = 3.8794. A million draws leave 0.0015 and some 0.005 of
// noise.
func TestFourRectangular(t *testing.T) {
	rng := rand.New(rand.NewPCG(101, 923))
	d := Draw(1_000_000, func() (float64, bool) {
		sum := 0.0
		for range 4 {
			sum += Rectangular(rng, 0, 1)
		}
		return sum, true
	})
	low, high := d.Interval(0.95)
	exact := 2 * math.Sqrt(3) * (2 - math.Pow(0.6, 0.25))
	if math.Abs(exact-3.8794) > 5e-5 {
		t.Fatalf("exact half width %v", exact)
	}
	if math.Abs(d.Mean) > 0.01 || math.Abs(d.StdU-2) > 0.005 || math.Abs(-low-exact) > 0.02 || math.Abs(high-exact) > 0.02 {
		t.Errorf("mean %v, u %v, 95 %% from %v to %v; want 0, 2.00, ±%v", d.Mean, d.StdU, low, high, exact)
	}
	if math.Abs(high-3.92) < 0.02 {
		t.Errorf("%v cannot be told from the normal distribution's 3.92", high)
	}
}

func TestRefusedTrials(t *testing.T) {
	n := 0.0
	d := Draw(10, func() (float64, bool) { n++; return n, n > 4 })
	// 5 to 10: mean 7.5, sum of squares 17.5 over 5.
	if d.Refused != 4 || d.Mean != 7.5 || math.Abs(d.StdU-math.Sqrt(3.5)) > 1e-12 {
		t.Errorf("%+v", d)
	}
	if none := Draw(3, func() (float64, bool) { return 0, false }); none.Refused != 3 || !math.IsNaN(none.StdU) {
		t.Errorf("%+v", none)
	}
}

// Points with the same coordinates move together in one trial, and anew in the next.
func TestHandPlacesAPointOnce(t *testing.T) {
	h := Hand{RNG: rand.New(rand.NewPCG(1, 1)), StdU: 0.5 / math.Sqrt(3)}
	points := []ingest.Point{{X: 10, Y: 20}, {X: 10, Y: 21}, {X: 10, Y: 20}}
	var a, b [3]ingest.Point
	h.Place(a[:], points)
	h.Place(b[:1], points[:1])
	if a[0] != a[2] || a[0] == points[0] || a[0].X == a[1].X || b[0] != a[0] {
		t.Errorf("%v %v", a, b)
	}
	h.Next()
	if h.Place(b[:], points); b[0] == a[0] {
		t.Error("the next trial has the same errors")
	}
	for range 1000 {
		h.Next()
		h.Place(a[:], points)
		if math.Abs(a[0].X-10) > 0.5 || math.Abs(a[0].Y-20) > 0.5 {
			t.Fatalf("%v is more than half a pixel off", a[0])
		}
	}
}
