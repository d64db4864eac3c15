package physical

import (
	"math"
	"testing"

	"leadline/ingest"
)

// region builds a region with its corner at (left, top) and 0.02 × −0.5 or the like
// per pixel.
func region(format, unitX, unitY uint16, dx, dy float64) *ingest.Region {
	return &ingest.Region{
		SpatialFormat: ingest.Some(format), UnitsX: ingest.Some(unitX), UnitsY: ingest.Some(unitY), DeltaX: ingest.Some(dx), DeltaY: ingest.Some(dy),
		MinX0: ingest.Some(ingest.Index(100)), MinY0: ingest.Some(ingest.Index(200)), MaxX1: ingest.Some(ingest.Index(499)), MaxY1: ingest.Some(ingest.Index(399)),
	}
}

// The mapping that follows from PS3.3 C.8.5.5.1.14, .16 and .17:
// phys = RefPhys + (i − (Min + Ref))·Delta for pixel index i, whose centre is at i + 0.5.
func TestValueAt(t *testing.T) {
	spectral := region(ingest.FormatSpectral, ingest.UnitSecond, ingest.UnitCMPerS, 0.005, -0.5)
	spectral.RefX0, spectral.RefY0 = ingest.Some(ingest.Index(399)), ingest.Some(ingest.Index(120))
	valued := *spectral
	valued.RefValueX, valued.RefValueY = ingest.Some(1.5), ingest.Some(10.0)
	mmode := region(ingest.FormatMMode, ingest.UnitSecond, ingest.UnitCM, 0.002, 0.02)
	mmode.RefX0, mmode.RefY0 = ingest.Some(ingest.Index(0)), ingest.Some(ingest.Index(-25))
	outside := region(ingest.Format2D, ingest.UnitCM, ingest.UnitCM, 0.01, 0.01)
	outside.RefX0, outside.RefY0, outside.RefValueX, outside.RefValueY = ingest.Some(ingest.Index(200)), ingest.Some(ingest.Index(-10)), ingest.Some(0.0), ingest.Some(0.3)
	for _, c := range []struct {
		name        string
		r           *ingest.Region
		x, y        float64
		wantX, want float64
	}{
		// Baseline at row 200+120 = 320, centre 320.5: zero there.
		{"spectral at the baseline", spectral, 499.5, 320.5, 0, 0},
		// 100 rows up, −100·−0.5 = +50 cm/s; 200 columns left, −200·0.005 = −1 s.
		{"spectral above the baseline", spectral, 299.5, 220.5, -1, 50},
		// Half a pixel reads half a delta: −0.5·−0.5 = 0.25 cm/s.
		{"half a pixel", spectral, 499.5, 320, 0, 0.25},
		{"reference value not 0", &valued, 299.5, 220.5, 0.5, 60},
		// Depth 0 lies 25 rows above the strip: row 210 is 35 rows down, 35·0.2 mm.
		{"M-mode that starts deeper", mmode, 100.5, 210.5, 0, 7},
		// 0.3 cm at row 190; row 240 is 50 rows down: 3 mm + 50·0.1 mm.
		{"reference outside the region, in cm", outside, 300.5, 240.5, 0, 8},
	} {
		p := RegionPlane(c.r)
		x, okX := p.X.ValueAt(c.x)
		y, okY := p.Y.ValueAt(c.y)
		if !okX || !okY || math.Abs(x-c.wantX) > 1e-12 || math.Abs(y-c.want) > 1e-12 {
			t.Errorf("%s: got %v %v, %v %v; want %v, %v", c.name, x, okX, y, okY, c.wantX, c.want)
		}
	}
}

func TestRegionPlaneAxes(t *testing.T) {
	absent := ingest.Optional[float64]{}
	for _, c := range []struct {
		name  string
		unit  uint16
		delta ingest.Optional[float64]
		want  Axis
	}{
		{"cm become mm once", ingest.UnitCM, ingest.Some(0.0125), Axis{Unit: MM, Delta: 0.125}},
		{"seconds", ingest.UnitSecond, ingest.Some(0.004), Axis{Unit: S, Delta: 0.004}},
		{"cm/s keep their sign", ingest.UnitCMPerS, ingest.Some(-0.4), Axis{Unit: CMPerS, Delta: -0.4}},
		{"hertz stay hertz", ingest.UnitHertz, ingest.Some(12.5), Axis{Unit: Hz, Delta: 12.5}},
		{"unit 0", ingest.UnitNone, ingest.Some(1.0), Axis{Lack: LackUnit}},
		{"degrees: unconverted polar data", ingest.UnitDegree, ingest.Some(0.1), Axis{Lack: LackOtherUnit}},
		{"delta 0", ingest.UnitCM, ingest.Some(0.0), Axis{Lack: LackDelta}},
		{"delta absent", ingest.UnitCM, absent, Axis{Lack: LackDelta}},
		{"delta not a number", ingest.UnitCM, ingest.Some(math.NaN()), Axis{Lack: LackDelta}},
		{"delta infinite", ingest.UnitCM, ingest.Some(math.Inf(1)), Axis{Lack: LackDelta}},
	} {
		r := region(ingest.Format2D, c.unit, c.unit, 1, 1)
		r.DeltaX, r.DeltaY = c.delta, c.delta
		if p := RegionPlane(r); p.X != c.want || p.Y != c.want {
			t.Errorf("%s: got %+v, want %+v", c.name, p.X, c.want)
		}
	}
	r := region(ingest.Format2D, ingest.UnitCM, ingest.UnitCM, 1, 1)
	r.UnitsX = ingest.Optional[uint16]{}
	if p := RegionPlane(r); p.X.Usable() || p.X.Lack != LackUnit || !p.Y.Usable() {
		t.Errorf("absent unit: %+v", p)
	}
}

// Absent reference pixel: no zero. Absent physical value: 0 where the standard
// places the reference pixel on the zero (PS3.3 C.8.5.5.1.16), else no zero.
func TestImpliedZero(t *testing.T) {
	for _, c := range []struct {
		name       string
		format     uint16
		data       uint16
		pixel      bool
		value      bool
		wantX, yes bool
	}{
		{"2D without value", ingest.Format2D, 1, true, false, false, false},
		{"2D with value", ingest.Format2D, 1, true, true, true, true},
		{"M-mode without value", ingest.FormatMMode, 1, true, false, true, true},
		{"spectral without value", ingest.FormatSpectral, 3, true, false, true, true},
		{"spectral without pixel", ingest.FormatSpectral, 3, false, true, false, false},
		{"Doppler trace", ingest.FormatWaveform, 7, true, false, true, true},
		{"ECG: time only", ingest.FormatWaveform, 10, true, false, true, false},
		{"graphics", ingest.FormatGraphics, 13, true, false, false, false},
	} {
		r := region(c.format, ingest.UnitSecond, ingest.UnitCMPerS, 0.01, -1)
		r.DataType = ingest.Some(c.data)
		if c.pixel {
			r.RefX0, r.RefY0 = ingest.Some(ingest.Index(1)), ingest.Some(ingest.Index(2))
		}
		if c.value {
			r.RefValueX, r.RefValueY = ingest.Some(0.0), ingest.Some(0.0)
		}
		p := RegionPlane(r)
		if p.X.Zero.Set != c.wantX || p.Y.Zero.Set != c.yes {
			t.Errorf("%s: zero x %v y %v, want %v %v", c.name, p.X.Zero.Set, p.Y.Zero.Set, c.wantX, c.yes)
		}
	}
}

// PS3.3 10.7.1.3: 0.30\0.25 is 0.30 mm vertical, 0.25 mm horizontal.
func TestSpacingPlane(t *testing.T) {
	p, ok := SpacingPlane([2]float64{0.30, 0.25})
	if !ok || p.Y.Delta != 0.30 || p.X.Delta != 0.25 || !p.Lengths() || p.Y.Zero.Set {
		t.Errorf("got %+v %v", p, ok)
	}
	for _, bad := range [][2]float64{{0, 1}, {1, 0}, {-1, 1}, {math.NaN(), 1}, {1, math.Inf(1)}} {
		if _, ok := SpacingPlane(bad); ok {
			t.Errorf("%v was taken", bad)
		}
	}
}

func TestSameScaleAndZero(t *testing.T) {
	a := Axis{Unit: MM, Delta: 0.1, Zero: ingest.Some(Zero{Pixel: 10, Value: 5})}
	shifted := Axis{Unit: MM, Delta: 0.1, Zero: ingest.Some(Zero{Pixel: 30, Value: 7})} // the same line: 5 + 20·0.1
	other := Axis{Unit: MM, Delta: 0.1, Zero: ingest.Some(Zero{Pixel: 30, Value: 7.1})}
	if !a.SameScale(shifted) || !a.SameZero(shifted) || a.SameZero(other) || a.SameZero(Axis{Unit: MM, Delta: 0.1}) {
		t.Error("zeros are told apart wrongly")
	}
	flipped := Axis{Unit: MM, Delta: -0.1, Zero: a.Zero}
	if !a.SameScale(flipped) || a.SameZero(flipped) {
		t.Error("a turned axis has the same scale and another zero line")
	}
	if a.SameScale(Axis{Unit: MM, Delta: 0.1001}) || a.SameScale(Axis{Unit: S, Delta: 0.1}) {
		t.Error("scales are told apart wrongly")
	}
}
