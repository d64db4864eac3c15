package rebuild

import (
	"math"
	"testing"

	"leadline/analyse"
	"leadline/ingest"
)

// rowsOn numbers rows of one image.
func rowsOn(image string, texts ...string) []ingest.CaliperRow {
	var rows []ingest.CaliperRow
	for i, text := range texts {
		r := row(image, text)
		r.Line = i + 2
		rows = append(rows, r)
	}
	return rows
}

// Septum, cavity and wall on one line of an M-mode strip at 0.2 mm a pixel: each inner
// point moves two of them, by the same size and opposite signs.
func TestSharedPoints(t *testing.T) {
	rows := rowsOn("mmode", "line|100,310 100,330|||IVSd", "line|100,330 100,410|||LVIDd", "line|100,410 100,425|||LVPWd", "line|300,310 300,320|||TAPSE")
	list := Measurements(sample(), rows, nil)
	u := 0.2 * 0.5 / math.Sqrt(3)
	for i, want := range []int{1, 2, 1, 0} {
		m := &list[i]
		if m.Measure == "" || len(m.Shared) != want {
			t.Fatalf("measurement %d (%s) shares %d coordinates, want %d", i+1, m.Measure, len(m.Shared), want)
		}
		sum := m.OwnU * m.OwnU
		for _, c := range m.Shared {
			if sum += c.StdU * c.StdU; c.Of.Axis != analyse.AxisY || c.Of.SOPUID != "mmode" || math.Abs(math.Abs(c.StdU)-u) > 1e-15 {
				t.Errorf("measurement %d: %+v of %+v", i+1, c, c.Of)
			}
		}
		if want > 0 && math.Abs(math.Sqrt(sum)-m.Rebuilt.StdU) > 1e-15 {
			t.Errorf("measurement %d: parts make %v, u %v", i+1, math.Sqrt(sum), m.Rebuilt.StdU)
		}
	}
	upper, lower := list[1].Shared[0], list[1].Shared[1]
	if list[0].Shared[0].Of != upper.Of || list[2].Shared[0].Of != lower.Of || upper.Of == lower.Of || upper.Of.Spot == lower.Of.Spot {
		t.Error("the coordinates are not those of the neighbours")
	}
	if list[0].Shared[0].StdU*upper.StdU > 0 || list[2].Shared[0].StdU*lower.StdU > 0 || upper.Of.Point != (ingest.Point{X: 100, Y: 330}) {
		t.Errorf("septum %v, cavity %v %v, wall %v", list[0].Shared[0], upper, lower, list[2].Shared[0])
	}
}

// What is not the same point: the same coordinates on another image or another frame,
// points that are merely near, and points of which only one coordinate is equal. The
// first frame may be named or not.
func TestNotShared(t *testing.T) {
	on := func(image string, frames []int, text string) ingest.CaliperRow {
		r := row(image, text)
		r.Frames = frames
		return r
	}
	for _, c := range []struct {
		name   string
		a, b   ingest.CaliperRow
		shared bool
	}{
		{"one point", on("colour", nil, "line|50,50 50,80|||IVSd"), on("colour", nil, "line|50,80 50,190|||LVIDd"), true},
		{"the first frame named", on("colour", []int{1}, "line|50,50 50,80|||IVSd"), on("colour", nil, "line|50,80 50,190|||LVIDd"), true},
		{"near", on("colour", nil, "line|50,50 50,80|||IVSd"), on("colour", nil, "line|50,80.001 50,190|||LVIDd"), false},
		{"on one line across", on("colour", nil, "line|50,50 50,80|||IVSd"), on("colour", nil, "line|51,80 51,190|||LVIDd"), false},
		{"two images", on("colour", nil, "line|50,50 50,80|||IVSd"), on("clash", nil, "line|50,80 50,190|||LVIDd"), false},
		{"a suspect image", on("suspect", nil, "line|50,50 50,80|||IVSd"), on("suspect", nil, "line|50,80 50,190|||LVIDd"), false},
		{"of no measure", on("colour", nil, "line|50,50 50,80|||something"), on("colour", nil, "line|50,80 50,190|||LVIDd"), false},
		{"not rebuilt", on("colour", nil, "line|50,80 50,80|||IVSd"), on("colour", nil, "line|50,80 50,190|||LVIDd"), false},
	} {
		list := Measurements(sample(), []ingest.CaliperRow{c.a, c.b}, nil)
		for i := range list {
			if m := &list[i]; (len(m.Shared) > 0) != c.shared {
				t.Errorf("%s: measurement %d (%s) shares %d", c.name, i+1, m.Verdict, len(m.Shared))
			}
		}
	}
}

func TestSharedFrames(t *testing.T) {
	interval := func(label string, frames ...int) ingest.CaliperRow {
		r := row("clip", "frames||||"+label)
		r.Frames = frames
		return r
	}
	s := sample()
	list := Measurements(s, []ingest.CaliperRow{interval("LVET", 10, 20), interval("IVRT", 20, 24), interval("IVCT", 5, 8)}, nil)
	if len(list[0].Shared) != 1 || len(list[1].Shared) != 1 || len(list[2].Shared) != 0 {
		t.Fatalf("%+v", list)
	}
	a, b := list[0].Shared[0], list[1].Shared[0]
	// 20 ms a frame: 20/√12 each, later for the one and shorter for the other.
	if a.Of != b.Of || a.Of.Axis != analyse.AxisFrame || a.Of.Point.X != 20 || math.Abs(a.StdU-0.02/math.Sqrt(12)) > 1e-15 || b.StdU != -a.StdU {
		t.Errorf("%+v %+v", a, b)
	}
	// By a rate that is rounded, all intervals of the clip share the period.
	for _, img := range s.Images {
		if img.SOPInstanceUID == "clip" {
			img.Image.Timing = ingest.Timing{CineRateHz: ingest.Some(50.0)}
		}
	}
	list = Measurements(s, []ingest.CaliperRow{interval("LVET", 10, 20), interval("IVRT", 30, 34)}, nil)
	a, b = list[0].Shared[0], list[1].Shared[0]
	if a.Of != b.Of || a.Of.Axis != analyse.AxisPeriod || math.Abs(a.StdU/b.StdU-2.5) > 1e-12 {
		t.Errorf("%+v %+v", a, b)
	}
}

// What frames and period add is the uncertainty of the interval, in every clip.
func TestIntervalContributions(t *testing.T) {
	for _, c := range clips {
		clock, ok := clockOf(&ingest.Image{Frames: 5, Timing: c.t})
		if !ok {
			continue
		}
		sum := 0.0
		for _, k := range clock.contributions(2, 4) {
			sum += k.X * k.X
		}
		if u := clock.between(2, 4, nil).StdU; math.Abs(math.Sqrt(sum)-u) > 1e-15 {
			t.Errorf("%s: contributions %v, u %v", c.name, math.Sqrt(sum), u)
		}
	}
}
