package presentation

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"leadline/ingest/coord"
	"leadline/ingest/dcm"
)

// TestImagePoints: by the formula of PS3.3 C.10.4 and C.10.5 worked by hand. The
// area 101\51 to 300\150 is 200 × 100 pixels that begin at x = 100, y = 50, so
// fraction 0.25\0.5 is 100 + 50 = 150, 50 + 50 = 100.
func TestImagePoints(t *testing.T) {
	general := area(101, 51, 300, 150)
	tests := []struct {
		name           string
		areas          []dcm.Dataset
		rotation       int
		flip           bool
		units          string
		frame          int
		points, reason string
	}{
		{"pixel", nil, 0, false, "PIXEL", 1, "[{0.25 0.5}]", ""},
		{"pixel, rotated and flipped", nil, 90, true, "PIXEL", 1, "[{0.25 0.5}]", ""},
		{"display", []dcm.Dataset{general}, 0, false, "DISPLAY", 1, "[{150 100}]", ""},
		{"display of an area that begins outside", []dcm.Dataset{area(-99, -49, 100, 50)}, 0, false, "DISPLAY", 1, "[{-50 0}]", ""},
		{"display rotated", []dcm.Dataset{general}, 180, false, "DISPLAY", 1, "", "rotated or flipped"},
		{"display flipped", []dcm.Dataset{general}, 0, true, "DISPLAY", 1, "", "rotated or flipped"},
		{"display without area", nil, 0, false, "DISPLAY", 1, "", "not given for the image"},
		{"display with the area of another image", []dcm.Dataset{area(1, 1, 200, 100, "1.3")}, 0, false, "DISPLAY", 1, "", "not given for the image"},
		{"the area of the image before the general one", []dcm.Dataset{general, area(1, 1, 200, 100, "1.2")}, 0, false, "DISPLAY", 1, "[{50 50}]", ""},
		{"the area of the frame", []dcm.Dataset{area(1, 1, 200, 100, "1.2", "1"), area(1, 1, 400, 200, "1.2", "2")}, 0, false, "DISPLAY", 2, "[{100 100}]", ""},
		{"two areas and no frame", []dcm.Dataset{area(1, 1, 200, 100, "1.2", "1"), area(1, 1, 400, 200, "1.2", "2")}, 0, false, "DISPLAY", 0, "", "several are given"},
		{"two areas that agree and no frame", []dcm.Dataset{area(1, 1, 200, 100, "1.2", "1"), area(1, 1, 200, 100, "1.2", "2")}, 0, false, "DISPLAY", 0, "[{50 50}]", ""},
		{"matrix", nil, 0, false, "MATRIX", 1, "", "MATRIX"},
		{"unknown units", nil, 0, false, "", 1, "", "neither PIXEL nor DISPLAY"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			d := state(tt.areas)
			s := Read(&d)
			s.RotationDeg, s.Flip = tt.rotation, tt.flip
			points, reason, ok := s.ImagePoints(Graphic{Units: tt.units, Points: []coord.Point{{X: 0.25, Y: 0.5}}}, "1.2", tt.frame)
			if ok != (tt.reason == "") || !strings.Contains(reason, tt.reason) || ok && fmt.Sprint(points) != tt.points {
				t.Errorf("got %v %q %v, want %s %q", points, reason, ok, tt.points, tt.reason)
			}
		})
	}
}

func TestRefersTo(t *testing.T) {
	refs := []dcm.Reference{{InstanceUID: "1.2", Frames: []int{3, 5}}, {InstanceUID: "1.3"}}
	for _, tt := range []struct {
		uid   string
		frame int
		want  bool
	}{{"1.2", 5, true}, {"1.2", 4, false}, {"1.2", 0, true}, {"1.3", 9, true}, {"1.4", 1, false}} {
		if got := refersTo(refs, tt.uid, tt.frame); got != tt.want {
			t.Errorf("%s frame %d: got %v", tt.uid, tt.frame, got)
		}
	}
}

func TestTextsOf(t *testing.T) {
	type sets = []dcm.Dataset
	horizontal := graphic("POLYLINE", "PIXEL", 0, 0, 100, 0)
	lower := graphic("POLYLINE", "PIXEL", 0, 50, 100, 50)
	group := func(d dcm.Dataset, id float64) dcm.Dataset { return with(d, dcm.GraphicGroupID, id) }
	inst := func(d dcm.Dataset, id float64) dcm.Dataset { return with(d, dcm.CompoundGraphicInstanceID, id) }
	bare := func() dcm.Dataset { d := anchored("t", "PIXEL", 0, 0); d.Elements = d.Elements[1:2]; return d }()
	tests := []struct {
		name                    string
		simple, compound, texts sets
		want                    string
	}{
		{"the only one, wherever", sets{horizontal}, nil, sets{anchored("t", "PIXEL", 700, 900)}, "[0]"},
		{"the only one without place", sets{horizontal}, nil, sets{bare}, "[0]"},
		{"a text without place among two graphics", sets{horizontal, lower}, nil, sets{bare}, "[-1 -1]"},
		{"each its nearest anchor", sets{horizontal, lower}, nil, sets{anchored("b", "PIXEL", 50, 45), anchored("a", "PIXEL", 101, 0)}, "[1 0]"},
		{"along the line, not at its ends", sets{horizontal, graphic("POINT", "PIXEL", 50, 20)}, nil, sets{anchored("a", "PIXEL", 50, 5)}, "[0 -1]"},
		{"nearest box", sets{horizontal, lower}, nil, sets{boxed("b", "PIXEL", 20, 55, 80, 70), boxed("a", "PIXEL", 20, 5, 80, 20)}, "[1 0]"},
		{"a box across the line", sets{horizontal, lower}, nil, sets{boxed("a", "PIXEL", 40, -10, 60, 30)}, "[0 -1]"},
		{"one text does not serve two graphics", sets{horizontal, lower}, nil, sets{anchored("a", "PIXEL", 50, 10)}, "[0 -1]"},
		{"a text as near to two graphics serves none", sets{horizontal, lower}, nil, sets{anchored("a", "PIXEL", 50, 25)}, "[-1 -1]"},
		{"two texts as near", sets{horizontal}, nil, sets{anchored("a", "PIXEL", 50, 5), anchored("b", "PIXEL", 20, 5)}, "[-1]"},
		{"group before place", sets{group(horizontal, 1), group(lower, 2)}, nil, sets{group(anchored("b", "PIXEL", 50, 1), 2), group(anchored("a", "PIXEL", 50, 49), 1)}, "[1 0]"},
		{"a group shares its text", sets{group(horizontal, 1), group(lower, 1)}, nil, sets{group(anchored("a", "PIXEL", 50, 1), 1)}, "[0 0]"},
		{"two texts of a group: place decides", sets{group(horizontal, 1), group(lower, 1)}, nil, sets{group(anchored("b", "PIXEL", 50, 49), 1), group(anchored("a", "PIXEL", 50, 1), 1)}, "[1 0]"},
		{"instance before group", nil, sets{inst(compound("RULER", 0, 0, 100, 0), 9)}, sets{anchored("near", "PIXEL", 0, 0), inst(anchored("far", "PIXEL", 500, 500), 9)}, "[1]"},
		{"display text placed in the image", sets{horizontal, lower}, nil, sets{anchored("b", "DISPLAY", 0.25, 0.49), anchored("a", "DISPLAY", 0.25, 0.02)}, "[1 0]"},
		{"no texts", sets{horizontal}, nil, nil, "[-1]"},
		{"no graphics", nil, nil, sets{bare}, "[]"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			d := state([]dcm.Dataset{area(1, 1, 200, 100)}, annotation(tt.simple, tt.compound, tt.texts))
			s := Read(&d)
			if got := fmt.Sprint(s.TextsOf(&s.Annotations[0], "1.2", 1)); got != tt.want {
				t.Errorf("got %s, want %s", got, tt.want)
			}
		})
	}
}

// TestRotatedDisplayPairs: what cannot be placed in the image is still compared in
// the units that graphic and text share.
func TestRotatedDisplayPairs(t *testing.T) {
	d := state(nil, annotation([]dcm.Dataset{graphic("POINT", "DISPLAY", 0.1, 0.1), graphic("POINT", "PIXEL", 5, 5)}, nil,
		[]dcm.Dataset{anchored("far", "DISPLAY", 0.9, 0.9), anchored("near", "DISPLAY", 0.1, 0.2)}))
	s := Read(&d)
	s.RotationDeg = 90
	if got := fmt.Sprint(s.TextsOf(&s.Annotations[0], "1.2", 1)); got != "[1 -1]" {
		t.Errorf("got %s", got)
	}
}

// TestBoxDistance: worked by hand, a 4 × 2 box at the origin.
func TestBoxDistance(t *testing.T) {
	box := rectangle{0, 0, 4, 2}
	tests := []struct {
		a, b coord.Point
		want float64
	}{
		{coord.Point{X: 7, Y: 6}, coord.Point{X: 7, Y: 6}, 5},                  // corner 4,2: 3 and 4
		{coord.Point{X: 1, Y: 1}, coord.Point{X: 9, Y: 9}, 0},                  // begins inside
		{coord.Point{X: -5, Y: 1}, coord.Point{X: 9, Y: 1}, 0},                 // runs through
		{coord.Point{X: -5, Y: 5}, coord.Point{X: 9, Y: 5}, 3},                 // runs below
		{coord.Point{X: 6, Y: 2}, coord.Point{X: 4, Y: 4}, 1.4142135623730951}, // passes the corner: 2/√2
	}
	for _, tt := range tests {
		if got := box.distance(tt.a, tt.b); got < tt.want-1e-12 || got > tt.want+1e-12 {
			t.Errorf("%v–%v: got %v, want %v", tt.a, tt.b, got, tt.want)
		}
	}
}

// TestApart: segments are passed over by a bound that is never above their distance.
func TestApart(t *testing.T) {
	box := rectangle{0, 0, 4, 2}
	near := 0
	for i := range 9 * 9 * 9 * 9 {
		a := coord.Point{X: float64(i%9 - 2), Y: float64(i/9%9 - 3)}
		b := coord.Point{X: float64(i/81%9 - 2), Y: float64(i/729 - 3)}
		bound, d := box.apart(a, b), box.distance(a, b)
		if bound > d+1e-12 {
			t.Fatalf("%v–%v: bound %v, distance %v", a, b, bound, d)
		}
		if bound > 0 && d-bound < 1e-12 {
			near++
		}
	}
	if near == 0 {
		t.Error("the bound never reaches the distance")
	}
	if nan := math.NaN(); box.apart(coord.Point{X: nan}, coord.Point{}) > 0 {
		t.Error("a place that is none is far")
	}
}

func ExampleState_ImagePoints() {
	s := &State{Areas: []Area{{TopLeft: [2]int{1, 1}, BottomRight: [2]int{640, 480}}}}
	line := Graphic{Type: "POLYLINE", Units: UnitsDisplay, Points: []coord.Point{{X: 0.5, Y: 0.25}, {X: 0.5, Y: 0.75}}}
	points, _, ok := s.ImagePoints(line, "1.2", 1)
	fmt.Println(points, ok)
	// Output: [{320 120} {320 360}] true
}
