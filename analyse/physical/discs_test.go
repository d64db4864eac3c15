package physical

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"leadline/ingest"
)

// cavity computes the volume of discs; the first two points are the axis.
func cavity(p Plane, q pts) (Quantity, error) {
	c, err := p.Cavity(q[2:], q[0], q[1])
	if err != nil {
		return Quantity{}, err
	}
	return c.Volume()
}

// oval is an axis along x and an ellipse of n points about it, in pixels.
func oval(n int, length, width float64) pts {
	out := path(100, 200, 100+length, 200)
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * (float64(i) + 0.5) / float64(n))
		out = append(out, ingest.Point{X: 100 + length/2 + length/2*cos, Y: 200 + width/2*sin})
	}
	return out
}

var cavities = []geometryCase{
	// A cylinder, 20 mm long and 10 mm across: π/4 · 20 · 100 mm³.
	{"discs of a rectangle", cavity, lengths(0.1, 0.1), path(100, 200, 300, 200, 100, 150, 300, 150, 300, 250, 100, 250), math.Pi / 4 * 2, ML},
	{"discs, axis drawn the other way", cavity, lengths(0.1, 0.1), path(300, 200, 100, 200, 100, 150, 300, 150, 300, 250, 100, 250), math.Pi / 4 * 2, ML},
	// The same pixels at 0.1 × 0.2 mm: 20 mm across.
	{"discs, pixels not square", cavity, lengths(0.1, 0.2), path(100, 200, 300, 200, 100, 150, 300, 150, 300, 250, 100, 250), math.Pi / 4 * 8, ML},
	// A cone of base 10 mm and height 20 mm: the midpoint rule of n discs gives
	// 1/3 − 1/(12n²) of the cylinder.
	{"discs of a triangle", cavity, lengths(0.1, 0.1), path(100, 200, 300, 200, 100, 150, 300, 200, 100, 250), math.Pi / 4 * 2 * (1.0/3 - 1.0/4800), ML},
	// A trapezoid that lies more on one side of a slanted axis than on the other, so
	// that a turn of the axis changes every disc.
	{"discs about a slanted axis", cavity, lengths(0.1, 0.1), slanted(path(100, 200, 300, 200, 100, 190, 300, 70, 300, 230, 100, 220)), trapezoidDiscs(), ML},
}

// slanted turns points by a 3-4-5 triangle, which keeps all lengths.
func slanted(q pts) pts {
	return moved(q, func(p ingest.Point) ingest.Point {
		return ingest.Point{X: 0.8*p.X - 0.6*p.Y + 400, Y: 0.6*p.X + 0.8*p.Y}
	})
}

// trapezoidDiscs is the volume in mL of 20 discs of 1 mm whose diameters grow evenly
// from 3 to 16 mm.
func trapezoidDiscs() float64 {
	sum := 0.0
	for i := range Discs {
		d := 3 + 13*(float64(i)+0.5)/Discs
		sum += d * d
	}
	return math.Pi / 4 * sum / 1000
}

func TestCavities(t *testing.T) {
	for _, c := range cavities {
		q, err := c.f(c.plane, c.points)
		if err != nil || q.Unit != c.unit || math.Abs(q.Value-c.want) > 1e-9*c.want {
			t.Errorf("%s: got %.12g %s %v, want %.12g %s", c.name, q.Value, q.Unit, err, c.want, c.unit)
		}
	}
	open, _ := cavity(lengths(0.1, 0.1), cavities[0].points)
	closed, err := cavity(lengths(0.1, 0.1), append(slices.Clone(cavities[0].points), cavities[0].points[2]))
	if err != nil || open != closed {
		t.Errorf("a repeated first point: %v, want %v %v", closed, open, err)
	}
	// An ellipsoid 24 × 18 × 18 mm is π/6·24·18² = 4071.5 mm³. 20 discs by the midpoint
	// rule give 1 + 1/(2n²) of it; 720 sides take away less than 1e-4.
	q, err := cavity(lengths(0.1, 0.1), oval(720, 240, 180))
	if want := math.Pi / 6 * 24 * 18 * 18 / 1000 * (1 + 1.0/800); err != nil || math.Abs(q.Value/want-1) > 1e-4 {
		t.Errorf("ellipsoid: %v %v, want %v", q, err, want)
	}
}

// Two equal planes are a round cavity; two unequal ones of one length have the
// product of their diameters, and swapping them changes nothing.
func TestBiplane(t *testing.T) {
	cut := func(q pts) *Cavity {
		c, err := lengths(0.1, 0.1).Cavity(q[2:], q[0], q[1])
		if err != nil {
			t.Fatal(err)
		}
		return c
	}
	wide, narrow := cut(oval(180, 240, 180)), cut(oval(180, 240, 120))
	round, _ := wide.Volume()
	same, err := BiplaneVolume(wide, wide, nil)
	if err != nil || !close9(same.Value, round.Value) {
		t.Errorf("%v against %v %v", same, round, err)
	}
	both, _ := BiplaneVolume(wide, narrow, nil)
	swapped, _ := BiplaneVolume(narrow, wide, nil)
	if !close9(both.Value, round.Value*120/180) || !close9(both.Value, swapped.Value) || !close9(both.StdU, swapped.StdU) {
		t.Errorf("%v, swapped %v, round %v", both, swapped, round)
	}
	// The longer axis counts: the same diameters on half the length change nothing.
	short := cut(path(100, 200, 200, 200, 100, 150, 200, 150, 200, 250, 100, 250))
	long := cut(path(100, 200, 300, 200, 100, 150, 300, 150, 300, 250, 100, 250))
	if v, _ := BiplaneVolume(short, long, nil); !close9(v.Value, math.Pi/4*2) {
		t.Errorf("%v", v)
	}
}

// biplaneOf reads two cavities of half the points each.
func biplaneOf(p, second Plane, q pts) (Quantity, error) {
	half := len(q) / 2
	a, err := p.Cavity(q[2:half], q[0], q[1])
	if err != nil {
		return Quantity{}, err
	}
	b, err := second.Cavity(q[half+2:], q[half], q[half+1])
	if err != nil {
		return Quantity{}, err
	}
	return BiplaneVolume(a, b, nil)
}

// U of two planes of different scales and lengths, against differences of the value and
// against Monte Carlo (JCGM 101:2008 clause 7).
func TestBiplaneUncertainty(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and hardly anything in it at once")
	}
	rng := rand.New(rand.NewPCG(21, 22))
	p, second := lengths(0.1, 0.1), lengths(0.08, 0.12)
	second.PointStdU = 0.6
	for _, c := range []struct {
		name string
		q    pts
	}{
		{"the first axis is longer", slices.Concat(oval(16, 260, 180), slanted(oval(16, 240, 150)))},
		{"the second axis is longer", slices.Concat(oval(16, 200, 180), slanted(oval(16, 260, 150)))},
	} {
		q, err := biplaneOf(p, second, c.q)
		if err != nil {
			t.Fatal(err)
		}
		variance := 0.0
		for i := range c.q {
			u := CoordinateStdU
			if i >= len(c.q)/2 {
				u = second.PointStdU
			}
			for _, step := range []ingest.Point{{X: 1e-4}, {Y: 1e-4}} {
				at := func(k float64) float64 {
					moved := slices.Clone(c.q)
					moved[i].X, moved[i].Y = moved[i].X+k*step.X, moved[i].Y+k*step.Y
					v, _ := biplaneOf(p, second, moved)
					return v.Value
				}
				variance += math.Pow((at(1)-at(-1))/2e-4*u, 2)
			}
		}
		if math.Abs(q.StdU/math.Sqrt(variance)-1) > 1e-6 {
			t.Errorf("%s: u %v, by differences %v", c.name, q.StdU, math.Sqrt(variance))
		}
		sum, squares := 0.0, 0.0
		const draws = 20_000
		for range draws {
			moved := slices.Clone(c.q)
			for i := range moved {
				half := 0.5
				if i >= len(moved)/2 {
					half = second.PointStdU * math.Sqrt(3)
				}
				moved[i].X += half * (2*rng.Float64() - 1)
				moved[i].Y += half * (2*rng.Float64() - 1)
			}
			v, err := biplaneOf(p, second, moved)
			if err != nil {
				t.Fatal(err)
			}
			d := v.Value - q.Value
			sum, squares = sum+d, squares+d*d
		}
		if sd := math.Sqrt(squares/draws - sum/draws*sum/draws); math.Abs(q.StdU/sd-1) > 0.05 {
			t.Errorf("%s: u %.5g, Monte Carlo %.5g", c.name, q.StdU, sd)
		}
	}
	// Turning a picture, and with it both planes, changes nothing; a scale k-fold
	// changes value and U by k³.
	q := slices.Concat(oval(16, 260, 180), oval(16, 240, 150))
	one, _ := biplaneOf(p, p, q)
	turned, _ := biplaneOf(p, p, slanted(q))
	double, _ := biplaneOf(lengths(0.2, 0.2), lengths(0.2, 0.2), q)
	if !close9(one.Value, turned.Value) || !close9(one.StdU, turned.StdU) || !close9(8*one.Value, double.Value) || !close9(8*one.StdU, double.StdU) {
		t.Errorf("%v, turned %v, doubled %v", one, turned, double)
	}
}

func TestCavityRefusals(t *testing.T) {
	for _, c := range []struct {
		name   string
		plane  Plane
		points pts
		want   error
	}{
		{"in a strip", envelope, path(0, 0, 9, 0, 0, -5, 9, -5, 9, 5, 0, 5), ErrAxes},
		{"no axis", lengths(1, 1), path(5, 0, 5, 0, 0, -5, 9, -5, 9, 5, 0, 5), ErrDegenerate},
		{"two points", lengths(1, 1), path(0, 0, 9, 0, 0, -5, 9, -5), ErrPointCount},
		{"crossing itself", lengths(1, 1), path(0, 0, 9, 0, 0, -5, 9, 5, 9, -5, 0, 5), ErrSelfCrossing},
		{"axis outside", lengths(1, 1), path(0, 20, 9, 20, 0, -5, 9, -5, 9, 5, 0, 5), ErrDiscs},
		{"axis longer than the contour", lengths(1, 1), path(-9, 0, 9, 0, 0, -5, 9, -5, 9, 5, 0, 5), ErrDiscs},
		{"a dent met four times", lengths(1, 1), path(0, 0, 100, 0, 0, -50, 100, -50, 100, 10, 50, 10, 50, 20, 100, 20, 100, 50, 0, 50), ErrDiscs},
	} {
		if _, err := cavity(c.plane, c.points); !errors.Is(err, c.want) {
			t.Errorf("%s: got %v, want %v", c.name, err, c.want)
		}
	}
}
