package physical

import (
	"math"

	"leadline/ingest"
)

// Plane is the scale of both directions of a part of an image: the one
// calibration that a measurement is rebuilt in.
type Plane struct {
	X, Y Axis
	// PointStdU is the standard uncertainty of one coordinate of a caliper, in pixels,
	// where the error of placing it is known; 0 is CoordinateStdU.
	PointStdU float64
	// Contributions takes what each point adds to the uncertainty of what is computed
	// on this plane; nil for none.
	Contributions *[]Contribution
	// Work is filled with the steps of what is computed on this plane; nil for none.
	Work *Work
}

// RegionPlane reads the scale of a region (PS3.3 C.8.5.5.1.15 to .17). Either
// axis may lack a scale while the other has one: an ECG strip has a time axis only.
//
// Where a reference pixel stands without its physical value, the value is taken
// as 0 in M-mode, spectral and Doppler trace regions, since C.8.5.5.1.16 places
// the reference pixel of these on the transducer face, the baseline and the time
// of capture. On the other traces that holds for the time only. In a 2D region
// the skin line is merely the typical place, so no zero is assumed there.
func RegionPlane(r *ingest.Region) Plane {
	nullX, nullY := impliedZero(r)
	return Plane{
		X: rawAxis{r.UnitsX, r.DeltaX, r.MinX0, r.RefX0, r.RefValueX, nullX}.axis(),
		Y: rawAxis{r.UnitsY, r.DeltaY, r.MinY0, r.RefY0, r.RefValueY, nullY}.axis(),
	}
}

func impliedZero(r *ingest.Region) (x, y bool) {
	switch r.SpatialFormat.Value {
	case ingest.FormatMMode, ingest.FormatSpectral:
		return true, true
	case ingest.FormatWaveform:
		return true, DopplerTrace(r)
	}
	return false, false
}

// DopplerTrace tells that a region shows a mean, mode or maximum velocity trace
// (region data types 5, 6 and 7, PS3.3 C.8.5.5.1.2).
func DopplerTrace(r *ingest.Region) bool {
	return r.SpatialFormat.Value == ingest.FormatWaveform && r.DataType.Value >= 5 && r.DataType.Value <= 7
}

// SpacingPlane is the scale that Pixel Spacing gives: row spacing (vertical)
// first, column spacing (horizontal) second, in mm (PS3.3 10.7.1.3). It has no
// zero. It is false where a spacing is not a positive finite number.
func SpacingPlane(spacing [2]float64) (Plane, bool) {
	vertical, horizontal := spacing[0], spacing[1]
	if !finite(vertical) || !finite(horizontal) || vertical <= 0 || horizontal <= 0 {
		return Plane{}, false
	}
	return Plane{X: Axis{Unit: MM, Delta: horizontal}, Y: Axis{Unit: MM, Delta: vertical}}, true
}

// Lengths tells that both directions are lengths: shapes have sizes.
func (p Plane) Lengths() bool { return p.X.Is(MM) && p.Y.Is(MM) }

// ScaleTolerance is the relative difference below which two scales are the same:
// far above the rounding of a double, far below a pixel over any image
// (reference pixel counts stay under 10⁵).
const ScaleTolerance = 1e-6

// SameScale tells that two axes have the same unit and step. The sign of the step
// is left out: it turns no size.
func (a Axis) SameScale(b Axis) bool {
	return a.Unit == b.Unit && near(math.Abs(a.Delta), math.Abs(b.Delta), math.Abs(a.Delta))
}

// SameZero tells that two axes of the same scale give the same value everywhere.
func (a Axis) SameZero(b Axis) bool {
	if !a.Zero.Set || !b.Zero.Set {
		return a.Zero.Set == b.Zero.Set
	}
	atB := a.Zero.Value.Value + (b.Zero.Value.Pixel.Center()-a.Zero.Value.Pixel.Center())*a.Delta
	return a.Delta*b.Delta > 0 && near(atB, b.Zero.Value.Value, math.Abs(a.Delta))
}

func near(a, b, scale float64) bool { return math.Abs(a-b) <= ScaleTolerance*scale }
