package audit

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"leadline/analyse"
	"leadline/analyse/assemble"
	"leadline/analyse/indices"
	"leadline/analyse/physical"
	"leadline/analyse/rebuild"
	"leadline/analyse/stats/montecarlo"
	"leadline/ingest"
	"leadline/ingest/dcm"
)

// sharingStudy has a picture at 0.2 mm a pixel ("2d"), a spectral strip at 5 ms and
// 0.5 cm/s a pixel with its baseline at row 80.5 ("pw") and a clip of 20 ms a frame
// ("clip").
func sharingStudy(t *testing.T) *analyse.Study {
	t.Helper()
	spectral := calibrated("S", "pw", "pw", noon)
	spectral.Image.Rows, spectral.Image.Columns = 200, 400
	spectral.Image.Regions = []ingest.Region{{
		Ordinal: 1, SpatialFormat: ingest.Some(uint16(ingest.FormatSpectral)), DataType: ingest.Some(uint16(3)),
		UnitsX: ingest.Some(uint16(ingest.UnitSecond)), UnitsY: ingest.Some(uint16(ingest.UnitCMPerS)), DeltaX: ingest.Some(0.005), DeltaY: ingest.Some(-0.5),
		MinX0: ingest.Some(ingest.Index(0)), MinY0: ingest.Some(ingest.Index(0)), MaxX1: ingest.Some(ingest.Index(399)), MaxY1: ingest.Some(ingest.Index(199)),
		RefX0: ingest.Some(ingest.Index(0)), RefY0: ingest.Some(ingest.Index(180)),
	}}
	clip := calibrated("S", "clip", "clip", noon)
	clip.Image.Frames = 60
	clip.Image.Timing = ingest.Timing{IncrementPointer: []dcm.Tag{dcm.FrameTime}, FrameTimeMS: ingest.Some(20.0)}
	list := assemble.Studies([]*ingest.Instance{calibrated("S", "2d", "2d", noon), spectral, clip})
	if len(list) != 1 {
		t.Fatalf("%d studies", len(list))
	}
	return list[0]
}

// set is a row of a caliper table: x, y, x, y …
func set(image, label string, geometry ingest.Geometry, xy ...float64) ingest.CaliperRow {
	r := ingest.CaliperRow{Table: "t.csv", SOPUID: image, Label: label, Geometry: geometry}
	if geometry == ingest.GeometryFrames {
		for _, f := range xy {
			r.Frames = append(r.Frames, int(f))
		}
		return r
	}
	for i := 0; i < len(xy); i += 2 {
		r.Points = append(r.Points, ingest.Point{X: xy[i], Y: xy[i+1]})
	}
	return r
}

func derive(s *analyse.Study, rows []ingest.CaliperRow) []analyse.Index {
	for i := range rows {
		rows[i].Line = i + 2
	}
	s.Measurements = rebuild.Measurements(s, rows, nil)
	return indices.Derive(s)
}

func indexOf(t *testing.T, list []analyse.Index, id string) *analyse.Index {
	t.Helper()
	i := slices.IndexFunc(list, func(x analyse.Index) bool { return x.ID == id })
	if i < 0 || list[i].Value == nil {
		t.Fatalf("no value of %s", id)
	}
	return &list[i]
}

// apart derives again as if no caliper shared a point with another.
func apart(s *analyse.Study) []analyse.Index {
	kept := s.Measurements
	defer func() { s.Measurements = kept }()
	s.Measurements = slices.Clone(kept)
	for i := range s.Measurements {
		s.Measurements[i].Shared = nil
	}
	return indices.Derive(s)
}

var ventricle = []ingest.CaliperRow{
	set("2d", "IVSd", ingest.GeometryLine, 50, 5, 50, 23),
	set("2d", "LVIDd", ingest.GeometryLine, 50, 23, 50, 75),
	set("2d", "LVPWd", ingest.GeometryLine, 50, 75, 50, 90),
}

// Left ventricular mass of three calipers on one line, by hand. Septum 3.6, cavity
// 10.4 and wall 3.0 mm make an outer diameter of 17.0 mm that only its two ends move,
// since what an inner point adds to one caliper it takes from the next. So of
// m = 0.8·1.04·(outer³ − cavity³) + 0.6 each end of outer adds 0.832·3·1.70²·0.02·u_px
// and each end of the cavity 0.832·3·1.04²·0.02·u_px (g, lengths in cm, 0.02 cm a pixel,
// u_px = 0.5/√3 = 0.288675):
//
//	0.041647 g and 0.015587 g, so u = √2·√(0.041647² + 0.015587²) = 0.062887 g
//
// Were the calipers independent, it would be 0.09108 g, nearly half as much again.
func TestLVMassOfOneLine(t *testing.T) {
	s := sharingStudy(t)
	list := derive(s, ventricle)
	x := indexOf(t, list, "lv-mass")
	k := 0.832 * 3 * 0.02 * 0.5 / math.Sqrt(3)
	want := math.Sqrt2 * k * math.Hypot(1.70*1.70, 1.04*1.04)
	if math.Abs(want-0.062887) > 5e-7 || math.Abs(x.Value.StdU-want) > 1e-12 {
		t.Errorf("u %v, want %v", x.Value.StdU, want)
	}
	if !strings.Contains(x.Note, "share 2 points") {
		t.Errorf("note %q", x.Note)
	}
	// All three at once move septum and wall by both ends; the cavity by outer² − cavity².
	independent := math.Sqrt2 * k * math.Sqrt(2*math.Pow(1.70, 4)+math.Pow(1.70*1.70-1.04*1.04, 2))
	if u := indexOf(t, apart(s), "lv-mass").Value.StdU; math.Abs(u-independent) > 1e-12 || u < 1.4*want {
		t.Errorf("independent: u %v, want %v", u, independent)
	}
	// Relative wall thickness 2·P/D, of a wall and a cavity that share a point: its y
	// takes 1/D from P and adds P/D² to the loss. 2·0.2 mm·u_px/D·√(1 + (1+P/D)² + (P/D)²).
	q := 3.0 / 10.4
	want = 2 * 0.2 * 0.5 / math.Sqrt(3) / 10.4 * math.Sqrt(1+(1+q)*(1+q)+q*q)
	if u := indexOf(t, list, "relative-wall-thickness").Value.StdU; math.Abs(u-want) > 1e-12 {
		t.Errorf("relative wall thickness: u %v, want %v", u, want)
	}
}

// envelope is a trace of one beat, from 10 cm/s up to 60 and down to 15 again.
var envelope = []float64{
	40, 160, 48, 120, 56, 80, 62, 61, 70, 75, 80, 95, 95, 120, 110, 135, 125, 145, 140, 150, 155, 151, 170, 152,
}

// beat are peak, mean and end diastole of one traced envelope.
var beat = []ingest.CaliperRow{
	set("pw", "ACA PSV", ingest.GeometryPolyline, envelope...),
	set("pw", "ACA EDV", ingest.GeometryPoint, 170, 152),
	set("pw", "ACA TAMAX", ingest.GeometryPolyline, envelope...),
}

// cases share points in each way that indices do.
var sharingCases = []struct {
	name, id string
	rows     []ingest.CaliperRow
	// changes tells that u is another than of independent calipers, by 2 % or more.
	changes bool
}{
	{"mass of three calipers on one line", "lv-mass", ventricle, true},
	{"wall and cavity on one line", "relative-wall-thickness", ventricle, true},
	{"peak, mean and end of one trace", "pulsatility-index-aca", beat, false},
	{"peak, mean and end of a coarse trace", "pulsatility-index-aca", []ingest.CaliperRow{
		set("pw", "ACA PSV", ingest.GeometryPolyline, 40, 160, 60, 61, 90, 130, 170, 152), set("pw", "ACA EDV", ingest.GeometryPoint, 170, 152),
		set("pw", "ACA TAMAX", ingest.GeometryPolyline, 40, 160, 60, 61, 90, 130, 170, 152)}, true},
	{"peak and end of one trace", "resistive-index-aca", beat, false},
	{"both diameters from one point", "fractional-shortening", []ingest.CaliperRow{
		set("2d", "LVIDd", ingest.GeometryLine, 20, 15, 22, 85), set("2d", "LVIDs", ingest.GeometryLine, 20, 15, 21, 62)}, true},
	{"the same take from the other end", "tapse-mean", []ingest.CaliperRow{
		set("2d", "TAPSE", ingest.GeometryLine, 20, 15, 22, 65), set("2d", "TAPSE", ingest.GeometryLine, 22, 65, 20, 15)}, true},
	{"two takes from one point", "tapse-mean", []ingest.CaliperRow{
		set("2d", "TAPSE", ingest.GeometryLine, 20, 15, 22, 65), set("2d", "TAPSE", ingest.GeometryLine, 20, 15, 25, 66)}, true},
	{"takes that share points with another measure", "left-atrium-to-aortic-root", []ingest.CaliperRow{
		set("2d", "LA diameter", ingest.GeometryLine, 20, 50, 20, 95), set("2d", "LA diameter", ingest.GeometryLine, 21, 50, 20, 96),
		set("2d", "Ao root", ingest.GeometryLine, 20, 50, 20, 12)}, true},
	{"axes of one outline", "volume-bladder", []ingest.CaliperRow{
		set("2d", "Bladder length", ingest.GeometryLine, 20, 15, 80, 40), set("2d", "Bladder width", ingest.GeometryLine, 20, 15, 35, 70),
		set("2d", "Bladder depth", ingest.GeometryLine, 35, 70, 80, 40)}, true},
	{"intervals that begin together", "lv-performance-index-by-closure", []ingest.CaliperRow{
		set("clip", "TCO", ingest.GeometryFrames, 10, 40), set("clip", "LVET", ingest.GeometryFrames, 10, 32)}, true},
	{"intervals that meet", "lv-performance-index", []ingest.CaliperRow{
		set("clip", "IVCT", ingest.GeometryFrames, 10, 14), set("clip", "LVET", ingest.GeometryFrames, 14, 32), set("clip", "IVRT", ingest.GeometryFrames, 32, 37)}, true},
}

// Monte Carlo (JCGM 101:2008 clause 7) from the pixels on: every distinct point, and
// every distinct frame, is placed once a trial, all measurements are rebuilt and the
// index is derived again; u within 5 %.
func TestMonteCarloOfSharedPoints(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and hardly anything in it at once")
	}
	rng := rand.New(rand.NewPCG(31, 41))
	for _, c := range sharingCases {
		s := sharingStudy(t)
		u := indexOf(t, derive(s, c.rows), c.id).Value.StdU
		independent := indexOf(t, apart(s), c.id).Value.StdU
		d := montecarlo.Draw(10_000, trial(s, c.rows, c.id, rng))
		if d.Refused > 0 || math.Abs(u/d.StdU-1) > 0.05 {
			t.Errorf("%s: u %.5g, Monte Carlo %.5g (%d refused)", c.name, u, d.StdU, d.Refused)
		}
		if c.changes != (math.Abs(independent/u-1) > 0.02) {
			t.Errorf("%s: u %.5g, of independent calipers %.5g", c.name, u, independent)
		}
	}
}

// trial places all points anew and gives the index. Intervals are drawn by their
// frames, whose moments lie anywhere within 20 ms; they are handed over as rebuilt.
func trial(s *analyse.Study, rows []ingest.CaliperRow, id string, rng *rand.Rand) func() (float64, bool) {
	hands := map[string]*montecarlo.Hand{}
	placed := slices.Clone(rows)
	for i := range placed {
		placed[i].Points = slices.Clone(rows[i].Points)
		if hands[rows[i].SOPUID] == nil {
			hands[rows[i].SOPUID] = &montecarlo.Hand{RNG: rng, StdU: physical.CoordinateStdU}
		}
	}
	return func() (float64, bool) {
		for _, h := range hands {
			h.Next()
		}
		moment := map[int]float64{}
		for i := range rows {
			hands[rows[i].SOPUID].Place(placed[i].Points, rows[i].Points)
			for _, f := range rows[i].Frames {
				if _, met := moment[f]; !met {
					moment[f] = (float64(f) + rng.Float64()) * 0.02
				}
			}
		}
		s.Measurements = rebuild.Measurements(s, placed, nil)
		for i := range rows {
			if f := rows[i].Frames; len(f) == 2 {
				s.Measurements[i].Rebuilt.Value = moment[f[1]] - moment[f[0]]
			}
		}
		list := indices.Derive(s)
		k := slices.IndexFunc(list, func(x analyse.Index) bool { return x.ID == id })
		if k < 0 || list[k].Value == nil {
			return 0, false
		}
		return list[k].Value.Value, true
	}
}

// Moving a shared coordinate moves each measurement that holds it by what it is said
// to add, and no other.
func TestMovingASharedCoordinate(t *testing.T) {
	const h = 1e-4
	tried := 0
	for _, c := range sharingCases {
		s := sharingStudy(t)
		derive(s, c.rows)
		kept := s.Measurements
		added := map[*analyse.Coordinate][]float64{}
		for i := range kept {
			for _, k := range kept[i].Shared {
				if added[k.Of] == nil {
					added[k.Of] = make([]float64, len(kept))
				}
				added[k.Of][i] = k.StdU
			}
		}
		for of, want := range added {
			if of.Axis != analyse.AxisX && of.Axis != analyse.AxisY {
				continue
			}
			up, down := values(s, c.rows, of, h), values(s, c.rows, of, -h)
			moved := 0
			for i := range kept {
				got := (up[i] - down[i]) / (2 * h) * physical.CoordinateStdU
				if math.Abs(got-want[i]) > 1e-5*kept[i].Rebuilt.StdU {
					t.Errorf("%s: %s of %v moves measurement %d by %v, said %v", c.name, of.Axis, of.Point, i+1, got, want[i])
				}
				if got != 0 {
					moved++
				}
			}
			if tried++; moved == 0 {
				t.Errorf("%s: %+v moves nothing", c.name, of)
			}
		}
	}
	if tried < 30 {
		t.Errorf("only %d coordinates were moved", tried)
	}
}

// values are those of all measurements with one coordinate moved.
func values(s *analyse.Study, rows []ingest.CaliperRow, of *analyse.Coordinate, by float64) []float64 {
	moved := slices.Clone(rows)
	for i := range moved {
		moved[i].Points = slices.Clone(rows[i].Points)
		for k, p := range moved[i].Points {
			if rows[i].SOPUID != of.SOPUID || p != of.Point {
				continue
			}
			if of.Axis == analyse.AxisX {
				moved[i].Points[k].X += by
			} else {
				moved[i].Points[k].Y += by
			}
		}
	}
	var out []float64
	for _, m := range rebuild.Measurements(s, moved, nil) {
		out = append(out, m.Rebuilt.Value)
	}
	return out
}

// Calipers without a point in common give what independent inputs give, and hold
// nothing for others.
func TestDisjointPoints(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 7))
	compared := 0
	for range 50 {
		var rows []ingest.CaliperRow
		for i, label := range []string{"IVSd", "LVIDd", "LVPWd", "LVIDs", "TAPSE", "TAPSE", "LA diameter", "Ao root"} {
			x := 5 + 10*float64(i)
			length := 20 + rng.Float64()*40
			if label == "LVIDs" {
				length = 15
			}
			rows = append(rows, set("2d", label, ingest.GeometryLine, x, 10+rng.Float64()*10, x+rng.Float64(), 20+length))
		}
		s := sharingStudy(t)
		together := derive(s, rows)
		for i := range s.Measurements {
			if s.Measurements[i].Shared != nil {
				t.Fatalf("%+v", s.Measurements[i].Shared)
			}
		}
		for i, x := range apart(s) {
			if x.Value == nil {
				continue
			}
			if compared++; *x.Value != *together[i].Value || strings.Contains(together[i].Note, "share") {
				t.Errorf("%s: %v and %v, note %q", x.ID, *x.Value, *together[i].Value, together[i].Note)
			}
		}
		// By hand: the mean of two takes of u1 and u2.
		a, b := s.Measurements[4].Rebuilt.StdU, s.Measurements[5].Rebuilt.StdU
		if u := indexOf(t, together, "tapse-mean").Value.StdU; math.Abs(u-math.Hypot(a, b)/2) > 1e-12 {
			t.Errorf("mean of takes with u %v and %v: %v", a, b, u)
		}
	}
	if compared < 500 {
		t.Errorf("only %d indices compared", compared)
	}
}

// Two measures with different placing errors that share a point: its error is one, and
// moves each by its own measure's size. Cavity 52 px with 2 px, wall 15 px with half a
// pixel's step, both ends each: u(P)² = 2·(δu1)², u(D)² = 2·(δu2)², covariance −δ²·u1·u2.
func TestSharedPointOfTwoPlacingErrors(t *testing.T) {
	s := sharingStudy(t)
	s.Uncertainty = analyse.UncertaintyRule{Protocol: "p", PlacementPX: map[string]float64{"lv-internal-diameter-diastole": 2}}
	x := indexOf(t, derive(s, ventricle[1:]), "relative-wall-thickness")
	u1, u2, wall, cavity := 0.2*0.5/math.Sqrt(3), 0.2*2, 3.0, 10.4
	byWall, byCavity := 2/cavity, -2*wall/cavity/cavity
	variance := 2*math.Pow(byWall*u1, 2) + 2*math.Pow(byCavity*u2, 2) + 2*byWall*byCavity*-u1*u2
	if math.Abs(x.Value.StdU-math.Sqrt(variance)) > 1e-12 {
		t.Errorf("u %v, want %v", x.Value.StdU, math.Sqrt(variance))
	}
}

// The same caliper set from the other end is no second take: the mean is as uncertain
// as one. Stored again as it is, it counts once anyway.
func TestSameCaliperTwice(t *testing.T) {
	s := sharingStudy(t)
	there := set("2d", "TAPSE", ingest.GeometryLine, 20, 15, 22, 65)
	back := set("2d", "TAPSE", ingest.GeometryLine, 22, 65, 20, 15)
	alone := indexOf(t, derive(s, []ingest.CaliperRow{there}), "tapse-mean").Value.StdU
	for _, rows := range [][]ingest.CaliperRow{{there, back}, {there, there}, {there, there, back}} {
		if u := indexOf(t, derive(s, rows), "tapse-mean").Value.StdU; math.Abs(u-alone) > 1e-12 {
			t.Errorf("%d takes: u %v, of one %v", len(rows), u, alone)
		}
	}
}
