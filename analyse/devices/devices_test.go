package devices

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"

	"leadline/analyse"
	"leadline/analyse/assemble"
	"leadline/ingest"
)

// shot is one picture of a test, with what differs from a plain one: a picture of 500 by
// 400 pixels whose region of 400 rows shows the stated depth.
type shot struct {
	day                           int
	depth, delta                  float64 // mm, mm per pixel; delta 0 is what the depth wants
	columns, rows, height         int
	model, serial, software, exam string
	noZero, none, unstated        bool
	source                        string
	enlarged                      bool
	wide                          float64 // times mm per pixel across; 0 is 1
}

var origin = time.Date(2026, 1, 1, 9, 0, 0, 0, time.UTC)

// studies puts shots together, one a study.
func studies(shots []shot) []*analyse.Study {
	devices, writers := map[ingest.Device]*ingest.Device{}, map[string]*ingest.Writer{}
	var all []*ingest.Instance
	for i, s := range shots {
		d := ingest.Device{Manufacturer: "Orrin & Vale", Model: "Tern", Serial: s.serial, Software: s.software, Transducer: "P8-3"}
		if s.model != "" {
			d.Model = s.model
		}
		if devices[d] == nil {
			devices[d] = &d
		}
		if writers[s.source] == nil {
			writers[s.source] = &ingest.Writer{Source: s.source}
		}
		at := ingest.Stamp{T: origin.AddDate(0, 0, s.day), HasTime: true}
		all = append(all, &ingest.Instance{
			SOPInstanceUID: fmt.Sprintf("2.25.%06d", i+1), Path: fmt.Sprintf("IM%04d", i+1), Acquisition: at,
			Patient: &ingest.Patient{}, Study: &ingest.Study{UID: fmt.Sprintf("2.25.9%05d", i), Start: at}, Series: &ingest.Series{Modality: "US", ProtocolName: s.exam},
			Device: devices[d], Writer: writers[s.source], Image: s.image(),
		})
	}
	return assemble.Studies(all)
}

func (s shot) image() *ingest.Image {
	pick := func(v, plain int) int {
		if v == 0 {
			return plain
		}
		return v
	}
	img := &ingest.Image{Rows: pick(s.rows, 400), Columns: pick(s.columns, 500), Frames: 1, BurnedIn: "NO"}
	if !s.unstated {
		img.DepthMM = ingest.Some(s.depth)
	}
	if s.none {
		return img
	}
	height := pick(s.height, 400)
	delta := s.delta
	if delta == 0 {
		delta = s.depth / float64(height)
	}
	r := ingest.Region{
		Ordinal: 1, SpatialFormat: ingest.Some(uint16(1)), DataType: ingest.Some(uint16(1)),
		MinX0: ingest.Some(ingest.Index(0)), MinY0: ingest.Some(ingest.Index(0)), MaxX1: ingest.Some(ingest.Index(399)), MaxY1: ingest.Some(ingest.Index(height - 1)),
		UnitsX: ingest.Some(uint16(3)), UnitsY: ingest.Some(uint16(3)), DeltaX: ingest.Some(delta / 10), DeltaY: ingest.Some(delta / 10),
	}
	if s.wide != 0 {
		r.DeltaX.Value *= s.wide
	}
	if !s.noZero {
		r.RefX0, r.RefY0 = ingest.Some(ingest.Index(200)), ingest.Some(ingest.Index(0))
		r.RefValueX, r.RefValueY = ingest.Some(0.0), ingest.Some(0.0)
		if s.enlarged {
			r.RefValueY = ingest.Some(s.depth / 40)
		}
	}
	img.Regions = []ingest.Region{r}
	return img
}

// series is n shots a week apart, at two depths by turns.
func series(n int, change func(i int, s *shot)) []shot {
	shots := make([]shot, n)
	for i := range shots {
		shots[i] = shot{day: 7 * i, depth: []float64{40, 60}[i%2], serial: "A", software: "1.0"}
		if change != nil {
			change(i, &shots[i])
		}
	}
	return shots
}

func only(t *testing.T, shots []shot) analyse.DeviceResult {
	t.Helper()
	all := Of(studies(shots), nil)
	if len(all) != 1 {
		t.Fatalf("%d devices", len(all))
	}
	return all[0]
}

func has(d analyse.DeviceResult, reason analyse.RemarkReason) *analyse.Remark {
	i := slices.IndexFunc(d.Remarks, func(r analyse.Remark) bool { return r.Reason == reason })
	if i < 0 {
		return nil
	}
	return &d.Remarks[i]
}

// TestVerdicts plants one thing into the pictures of one device, and beside each what
// must not be called one.
func TestVerdicts(t *testing.T) {
	cases := []struct {
		name    string
		shots   []shot
		verdict analyse.DeviceVerdict
		reason  analyse.RemarkReason
		says    string
	}{
		{"nothing", series(24, nil), analyse.DeviceSteady, analyse.ReasonAgrees, "24 of 24 pictures"},
		{"digits alone", series(24, func(i int, s *shot) { s.delta = math.Round(s.depth/400*1000+float64(i%4/2)*0.4) / 1000 }), analyse.DeviceSteady, analyse.ReasonAgrees, ""},
		{"single precision", series(24, func(i int, s *shot) {
			if s.delta = s.depth / 400; i%3 == 0 {
				s.delta = float64(float32(s.delta))
			}
		}), analyse.DeviceSteady, analyse.ReasonAgrees, ""},
		{"enlarged parts", series(24, func(i int, s *shot) {
			if i%5 == 0 {
				s.enlarged, s.delta = true, s.depth/800
			}
		}), analyse.DeviceSteady, analyse.ReasonAgrees, ""},
		{"one outlier", series(24, func(i int, s *shot) {
			if i == 7 {
				s.delta = 1.1 * s.depth / 400
			}
		}), analyse.DeviceLook, analyse.ReasonOutlier, "by up to +10 %"},
		{"an enlarged part that the header does not tell", series(24, func(i int, s *shot) {
			if s.noZero = true; i == 7 {
				s.delta = s.depth / 800
			}
		}), analyse.DeviceLook, analyse.ReasonOutlier, ""},
		{"a second scale", series(24, func(i int, s *shot) {
			if i%3 == 0 {
				s.delta = 1.04 * s.depth / 400
			}
		}), analyse.DeviceContradicts, analyse.ReasonTwoValues, "+4 %"},
		{"a second scale on another route", series(24, func(i int, s *shot) {
			if i%3 == 0 {
				s.delta, s.source = 1.04*s.depth/400, "GATE"
			}
		}), analyse.DeviceContradicts, analyse.ReasonTwoValues, "all of route 2"},
		{"a small second scale", series(24, func(i int, s *shot) {
			if i%3 == 0 {
				s.delta = 1.006 * s.depth / 400
			}
		}), analyse.DeviceLook, analyse.ReasonTwoValues, "+0.6 %"},
		{"a step", series(24, func(i int, s *shot) {
			if i >= 13 {
				s.delta = 0.97 * s.depth / 400
			}
		}), analyse.DeviceContradicts, analyse.ReasonStep, "-3 %, the software being the same"},
		{"a step with the software", series(24, func(i int, s *shot) {
			if i >= 13 {
				s.delta, s.software = 1.02*s.depth/400, "2.0"
			}
		}), analyse.DeviceContradicts, analyse.ReasonStep, "with the software from 1.0 to 2.0"},
		{"new software alone", series(24, func(i int, s *shot) {
			if i >= 13 {
				s.software = "2.0"
			}
		}), analyse.DeviceSteady, analyse.ReasonAgrees, ""},
		{"a drift", series(24, func(i int, s *shot) { s.delta = (1 + 0.002*float64(i)) * s.depth / 400 }), analyse.DeviceContradicts, analyse.ReasonDrift, "over 161 days"},
		{"a new layout with the scale", series(24, func(i int, s *shot) {
			if i >= 13 {
				s.height, s.rows, s.columns = 500, 520, 700
			}
		}), analyse.DeviceSteady, analyse.ReasonAgrees, ""},
		{"a new layout with another scale", series(24, func(i int, s *shot) {
			if i >= 13 {
				s.height, s.rows, s.columns, s.delta = 500, 520, 700, 1.08*s.depth/500
			}
		}), analyse.DeviceLook, analyse.ReasonStep, "1.08 times the depth"},
		{"one scale in every file", series(30, func(i int, s *shot) { s.depth, s.delta = []float64{40, 60, 80}[i%3], 0.1 }), analyse.DeviceContradicts, analyse.ReasonDepth, "shows 0 mm more"},
		{"reduced, nothing followed", series(24, func(i int, s *shot) {
			if i%3 == 0 {
				s.rows, s.columns = 200, 250
			}
		}), analyse.DeviceContradicts, analyse.ReasonResampled, "8 pictures of route 2 are 0.5 times as large"},
		{"reduced, the regions followed", series(24, func(i int, s *shot) {
			if i%3 == 0 {
				s.rows, s.columns, s.height, s.delta = 200, 250, 200, s.depth/400
			}
		}), analyse.DeviceContradicts, analyse.ReasonResampled, "regions were changed with the size, deltas were not"},
		{"reduced, the deltas followed", series(24, func(i int, s *shot) {
			if i%3 == 0 {
				s.rows, s.columns, s.delta = 200, 250, s.depth/200
			}
		}), analyse.DeviceContradicts, analyse.ReasonResampled, "deltas were changed with the size, regions were not"},
		{"reduced as it should", series(24, func(i int, s *shot) {
			if i%3 == 0 {
				s.rows, s.columns, s.height = 200, 250, 200
			}
		}), analyse.DeviceSteady, analyse.ReasonAgrees, ""},
		{"another pixel shape", series(24, func(i int, s *shot) {
			if i%3 == 0 {
				s.wide = 1.05
			}
		}), analyse.DeviceContradicts, analyse.ReasonShape, "8 of 24 pictures"},
		{"one other pixel shape", series(24, func(i int, s *shot) {
			if i == 3 {
				s.wide = 1.05
			}
		}), analyse.DeviceLook, analyse.ReasonShape, "1 of 24 pictures"},
		{"a shift of all scales, no depth stated", series(36, func(i int, s *shot) {
			if s.unstated, s.depth = true, []float64{40, 50, 60, 80}[i%4]; i >= 20 {
				s.delta = 0.97 * s.depth / 400
			}
		}), analyse.DeviceLook, analyse.ReasonStep, "each 0.97 times an earlier one"},
		{"a frame on one side", series(24, func(i int, s *shot) {
			if i%3 == 0 {
				s.columns = 620
			}
		}), analyse.DeviceSteady, analyse.ReasonAgrees, ""},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			d := only(t, c.shots)
			r := has(d, c.reason)
			if d.Verdict != c.verdict || r == nil || !strings.Contains(r.Text, c.says) {
				t.Errorf("%s: %+v", d.Verdict, d.Remarks)
			}
			if listed := len(d.LookAt) > 0; listed != (c.verdict != analyse.DeviceSteady) {
				t.Errorf("%d files to look at", len(d.LookAt))
			}
		})
	}
}

// TestTooLittle: bad and scarce input is said to be so, without a number that is none.
func TestTooLittle(t *testing.T) {
	cases := []struct {
		name    string
		shots   []shot
		verdict analyse.DeviceVerdict
		reason  analyse.RemarkReason
	}{
		{"one picture", series(1, nil), analyse.DeviceUntold, analyse.ReasonTooFew},
		{"four pictures, one of them strange", series(4, func(i int, s *shot) {
			if s.depth = 40; i == 2 {
				s.delta = 0.2
			}
		}), analyse.DeviceUntold, analyse.ReasonTooFew},
		{"no serial number", series(24, func(_ int, s *shot) { s.serial = "" }), analyse.DeviceUntold, analyse.ReasonNoSerial},
		{"no serial number, and two scales", series(24, func(i int, s *shot) {
			if s.serial = ""; i%3 == 0 {
				s.delta = 1.04 * s.depth / 400
			}
		}), analyse.DeviceLook, analyse.ReasonNoSerial},
		{"no scale", series(24, func(_ int, s *shot) { s.none = true }), analyse.DeviceUntold, analyse.ReasonUncalibrated},
		{"other depths from a day on, none stated", series(36, func(i int, s *shot) {
			if s.unstated, s.depth = true, []float64{40, 50, 60, 80}[i%4]; i >= 20 {
				s.depth = []float64{45, 70, 90, 100}[i%4]
			}
		}), analyse.DeviceUntold, analyse.ReasonUncalibrated},
		{"no stated depth", series(24, func(i int, s *shot) { s.unstated, s.depth = true, float64(40+i) }), analyse.DeviceUntold, analyse.ReasonUncalibrated},
		{"depth 0", series(24, func(_ int, s *shot) { s.depth, s.delta = 0, 0.1 }), analyse.DeviceUntold, analyse.ReasonUncalibrated},
		{"absurd scales", series(24, func(i int, s *shot) { s.delta = []float64{1e300, 1e-300}[i%2] }), analyse.DeviceUntold, analyse.ReasonUncalibrated},
		{"all values identical", series(24, func(_ int, s *shot) { s.depth, s.delta, s.day = 40, 0.1, 3 }), analyse.DeviceSteady, analyse.ReasonAgrees},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			d := only(t, c.shots)
			if d.Verdict != c.verdict || has(d, c.reason) == nil {
				t.Errorf("%s: %+v", d.Verdict, d.Remarks)
			}
			if text := fmt.Sprintf("%+v %+v", d.Remarks, d.Scales); strings.Contains(text, "NaN") || strings.Contains(text, "Inf") {
				t.Errorf("no number: %s", text)
			}
		})
	}
}

// TestSwapped exchanges two devices, of two models by what they draw, of one model by
// their scale, and one device that only looks like another from a day on.
func TestSwapped(t *testing.T) {
	plain := func(i int, s *shot) {}
	large := func(i int, s *shot) { s.rows, s.columns, s.height = 640, 800, 600 }
	scaled := func(i int, s *shot) { s.delta = 1.03 * s.depth / 400 }
	both := func(first, second func(int, *shot), at int) []shot {
		a := series(24, func(i int, s *shot) {
			if first(i, s); i >= at {
				*s = shot{day: s.day, depth: s.depth, serial: s.serial, software: s.software}
				second(i, s)
			}
		})
		return a
	}
	pair := func(first, second func(int, *shot), at, other int) []shot {
		b := both(second, first, other)
		for i := range b {
			b[i].serial = "B"
		}
		return append(both(first, second, at), b...)
	}
	swapped := func(shots []shot) (n int) {
		for _, d := range Of(studies(shots), nil) {
			if r := has(d, analyse.ReasonSwapped); r != nil && d.Verdict == analyse.DeviceContradicts && r.Other != nil && r.Other.Serial != d.Device.Serial {
				n++
			}
		}
		return n
	}
	for name, c := range map[string]struct {
		shots []shot
		want  int
	}{
		"by what they draw":      {pair(plain, large, 12, 12), 2},
		"by their scale":         {pair(plain, scaled, 12, 12), 2},
		"never":                  {pair(plain, large, 99, 99), 0},
		"one of them":            {pair(plain, large, 12, 99), 0},
		"two weeks apart":        {pair(plain, large, 12, 14), 2},
		"a month apart":          {pair(plain, large, 12, 16), 0},
		"half a year apart":      {pair(plain, large, 5, 19), 0},
		"alike, so without harm": {pair(plain, plain, 12, 12), 0},
	} {
		if got := swapped(c.shots); got != c.want {
			t.Errorf("%s: %d devices swapped, expected %d", name, got, c.want)
		}
	}
}

// TestUnlikeModel: of three devices of a model one has another scale; of two nobody can
// say which.
func TestUnlikeModel(t *testing.T) {
	fleet := func(units int) []shot {
		var all []shot
		for u := range units {
			all = append(all, series(24, func(i int, s *shot) {
				if s.serial = fmt.Sprint(u); u == 1 {
					s.delta = 1.03 * s.depth / 400 // from the middle of two too more than a limit
				}
			})...)
		}
		return all
	}
	for units, want := range map[int]int{2: 0, 3: 1, 5: 1} {
		found := 0
		for _, d := range Of(studies(fleet(units)), nil) {
			if has(d, analyse.ReasonModel) != nil {
				found++
				if d.Device.Serial != "1" || d.Verdict != analyse.DeviceLook {
					t.Errorf("%s is %s", d.Device.Serial, d.Verdict)
				}
			}
		}
		if found != want {
			t.Errorf("of %d devices %d are unlike", units, found)
		}
	}
}

// TestScale: the line of depth shown over depth stated has the slope that was drawn.
func TestScale(t *testing.T) {
	d := only(t, series(24, func(i int, s *shot) { s.depth, s.delta = float64(40+10*(i%4)), 1.05*float64(40+10*(i%4))/400 }))
	s := d.Scales[0]
	if math.Abs(s.Slope.Value-1.05) > 1e-9 || math.Abs(s.InterceptMM.Value) > 1e-9 || s.Depths != 4 || s.DepthHigh.Value != 70 || s.Change != analyse.ChangeNone {
		t.Errorf("%+v", s)
	}
}

// TestOrder: the order of studies and pictures does not matter.
func TestOrder(t *testing.T) {
	shots := series(24, func(i int, s *shot) {
		if i >= 13 {
			s.delta = 0.97 * s.depth / 400
		}
	})
	a := Of(studies(shots), nil)
	list := studies(shots)
	slices.Reverse(list)
	b := Of(list, nil)
	if fmt.Sprintf("%+v", a[0].Remarks) != fmt.Sprintf("%+v", b[0].Remarks) || len(a[0].LookAt) != len(b[0].LookAt) || a[0].LookAt[0].Image.Path != b[0].LookAt[0].Image.Path {
		t.Errorf("%+v and %+v", a[0], b[0])
	}
}

// TestPrintedUnit reads the last place off numbers.
func TestPrintedUnit(t *testing.T) {
	for _, c := range []struct{ v, want float64 }{
		{0.0123, 1e-4}, {-0.0123, 1e-4}, {float64(float32(0.0123)), 1e-4}, {0.02, 1e-2}, {1, 1}, {25, 1},
		{0.012345678901, 0.012345678901 / (1 << 23)}, {0.1234567, 0.1234567 / (1 << 23)},
	} {
		if got := printedUnit(c.v); math.Abs(got-c.want) > 1e-6*c.want {
			t.Errorf("%v: %v, expected %v", c.v, got, c.want)
		}
	}
}

// TestSameMultiple: scales that moved together by up to 0.15 in logarithms are one move,
// by more they are other depths.
func TestSameMultiple(t *testing.T) {
	before := []float64{0.10, 0.15, 0.20}
	for shift, want := range map[float64]bool{0.14: true, 0.16: false, -0.14: true, -0.16: false, 0.006: true, 0.004: false} {
		after := make([]float64, len(before))
		for i, b := range before {
			after[i] = b * math.Exp(shift)
		}
		if got, ok := sameMultiple(before, after); ok != want || ok && math.Abs(got-shift) > 1e-9 {
			t.Errorf("moved by %v: %v, %t", shift, got, ok)
		}
	}
}

// TestDepthRange: that a scale does not follow the depth is told where depths differ by
// 10 mm or more.
func TestDepthRange(t *testing.T) {
	for deepest, want := range map[float64]bool{49: false, 51: true} {
		shots := series(30, func(i int, s *shot) { s.depth, s.delta = []float64{40, 45, deepest}[i%3], 0.1 })
		for _, d := range Of(studies(shots), nil) {
			if r := has(d, analyse.ReasonDepth); (r != nil && strings.Contains(r.Text, "does not follow")) != want {
				t.Errorf("up to %v mm: %s", deepest, fmt.Sprint(d.Remarks))
			}
		}
	}
}

// TestLabelTellsSettings: an exam that a label names parts settings that the header
// does not, and wins over the header.
func TestLabelTellsSettings(t *testing.T) {
	all := studies(series(12, func(i int, s *shot) { s.depth, s.exam = 40, "preset" }))
	for i, s := range all {
		if i%2 == 0 {
			p := *s.Images[0].Picture
			p.Exam = "Neo lung"
			s.Images[0].Picture = &p
		}
	}
	d := Of(all, nil)[0]
	var got []string
	for _, s := range d.Settings {
		got = append(got, fmt.Sprintf("%s %d", s.Exam, len(s.Images)))
	}
	if want := []string{"Neo lung 6", "preset 6"}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

// TestDepthLineByLibrary: the line of the depth shown over the depth stated, through
// pictures whose scales are a little off at random, is that of a general library
// (gonum: QR least squares and Student's t), with its intervals.
func TestDepthLineByLibrary(t *testing.T) {
	rng := rand.New(rand.NewPCG(6, 1))
	const n = 40
	design, shown := mat.NewDense(n, 2, nil), mat.NewVecDense(n, nil)
	shots := series(n, func(i int, s *shot) {
		s.depth = float64(30 + 10*(i%6))
		s.delta = (s.depth*1.02 + 0.5 + 0.2*rng.NormFloat64()) / 400
		design.SetRow(i, []float64{1, s.depth})
		shown.SetVec(i, s.delta*400)
	})
	var qr mat.QR
	qr.Factorize(design)
	var line mat.VecDense
	if err := qr.SolveVecTo(&line, false, shown); err != nil {
		t.Fatal(err)
	}
	var residuals mat.VecDense
	residuals.MulVec(design, &line)
	residuals.SubVec(shown, &residuals)
	sd := math.Sqrt(mat.Dot(&residuals, &residuals) / (n - 2))
	var square, inverse mat.Dense
	square.Mul(design.T(), design)
	if err := inverse.Inverse(&square); err != nil {
		t.Fatal(err)
	}
	half := distuv.StudentsT{Sigma: 1, Nu: n - 2}.Quantile(0.975) * sd * math.Sqrt(inverse.At(1, 1))

	s := only(t, shots).Scales[0]
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"slope", s.Slope.Value, line.AtVec(1)}, {"intercept", s.InterceptMM.Value, line.AtVec(0)}, {"residual SD", s.ResidualMM.Value, sd},
		{"slope, low", s.SlopeLow.Value, line.AtVec(1) - half}, {"slope, high", s.SlopeHigh.Value, line.AtVec(1) + half},
	} {
		if math.Abs(c.got-c.want) > 1e-9 {
			t.Errorf("%s %v, the library has %v", c.name, c.got, c.want)
		}
	}
	if s.Depths != 6 || s.SlopeLow.Value > 1.02 || s.SlopeHigh.Value < 1.02 {
		t.Errorf("%d depths, slope from %v to %v; drawn with 1.02", s.Depths, s.SlopeLow.Value, s.SlopeHigh.Value)
	}
}
