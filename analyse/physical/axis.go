package physical

import (
	"math"

	"leadline/ingest"
)

// Axis is the scale of one direction of an image. Unit is MM, S, CMPerS or Hz,
// and empty where the direction has no usable scale; Lack says why then. Delta is
// the step per pixel to the right or downward, in Unit, signed as the file gives it.
type Axis struct {
	Unit  Unit
	Delta float64
	Lack  Lack
	// Zero is absent where only differences along the axis mean anything.
	Zero ingest.Optional[Zero]
}

// Zero ties an axis to a physical value: Value, in the axis' unit, stands at the
// centre of the pixel with this index of the image.
type Zero struct {
	Pixel ingest.Index
	Value float64
}

// Lack is why an axis has no usable scale, in words.
type Lack string

// The ways an axis lacks a scale.
const (
	LackUnit      Lack = "has no physical unit"
	LackOtherUnit Lack = "has a physical unit that no measurement here is made in"
	LackDelta     Lack = "has a unit but no scale"
)

// Usable tells that the axis has a unit and a scale.
func (a Axis) Usable() bool { return a.Unit != "" }

// Is tells that the axis is scaled in unit u.
func (a Axis) Is(u Unit) bool { return a.Unit == u }

// ValueAt is the physical value at the continuous coordinate c:
//
//	RefValue + (c − 0.5 − (Min + Ref)) · Delta
//
// since index i has its centre at i + 0.5 (PS3.3 C.8.5.5.1.16, C.18.6). It is
// false where the axis has no zero.
func (a Axis) ValueAt(c float64) (float64, bool) {
	zero, ok := a.Zero.Get()
	if !ok || !a.Usable() {
		return 0, false
	}
	return zero.Value + (c-zero.Pixel.Center())*a.Delta, true
}

// span is the signed physical difference between two coordinates.
func (a Axis) span(from, to float64) float64 { return (to - from) * a.Delta }

// axisUnits are the units of C.8.5.5.1.15 that measurements are made in, with the
// factor to the unit used inside. Hertz stay hertz: a velocity would need the
// transducer frequency, the speed of sound and the angle.
var axisUnits = map[uint16]Conversion{
	ingest.UnitCM:     {MM, 10},
	ingest.UnitSecond: {S, 1},
	ingest.UnitHertz:  {Hz, 1},
	ingest.UnitCMPerS: {CMPerS, 1},
}

// rawAxis holds the fields of a region that describe one direction.
type rawAxis struct {
	unit       ingest.Optional[uint16]
	delta      ingest.Optional[float64]
	low, ref   ingest.Optional[ingest.Index]
	value      ingest.Optional[float64]
	zeroIsNull bool
}

// axis converts the unit once, here at the edge.
func (r rawAxis) axis() Axis {
	code, ok := r.unit.Get()
	if !ok || code == ingest.UnitNone {
		return Axis{Lack: LackUnit}
	}
	unit, ok := axisUnits[code]
	if !ok {
		return Axis{Lack: LackOtherUnit}
	}
	delta := r.delta.Value * unit.Factor
	if !r.delta.Set || delta == 0 || !finite(delta) {
		return Axis{Lack: LackDelta}
	}
	return Axis{Unit: unit.Unit, Delta: delta, Zero: r.zero(unit.Factor)}
}

// zero reads the reference pixel. An absent Reference Pixel has no default in the
// standard, so there is no zero then. An absent Reference Pixel Physical Value
// means 0 only where the standard places the reference pixel on the zero of the
// axis (zeroIsNull).
func (r rawAxis) zero(factor float64) ingest.Optional[Zero] {
	low, okLow := r.low.Get()
	ref, okRef := r.ref.Get()
	value, okValue := r.value.Get()
	if !okLow || !okRef || !(okValue || r.zeroIsNull) || !finite(value*factor) {
		return ingest.Optional[Zero]{}
	}
	return ingest.Optional[Zero]{Value: Zero{Pixel: low + ref, Value: value * factor}, Set: true}
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
