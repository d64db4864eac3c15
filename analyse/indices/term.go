package indices

import (
	"cmp"
	"math"
	"slices"

	"leadline/analyse"
)

// term is a value with its standard uncertainty in parts, one for each cause: parts
// of one cause move all values that hold it together, parts of different causes are
// independent (JCGM 100:2008 5.2 and F.1.2.3).
type term struct {
	value float64
	// parts are sorted by cause and hold each cause once.
	parts []effect
}

// effect is what one cause adds to a value, signed, in the unit of the value.
type effect struct {
	cause cause
	u     float64
}

// cause is what an error comes from. Equal causes are one error.
type cause struct {
	kind causeKind
	// number is that of a coordinate or a measurement.
	number int
	// name is that of a device, or of an input.
	name string
}

type causeKind int

// The kinds of causes. One device has one error of length, one of time and one of
// velocity in all its images of a study: with them the values of a ratio move
// together, and means of repeats gain nothing.
const (
	// ofCoordinate is one of a point that several measurements have in common.
	ofCoordinate causeKind = iota
	// ofMeasurement is what a measurement shares with no other.
	ofMeasurement
	// ofInput is an input that is no measurement.
	ofInput
	ofLength
	ofTime
	ofVelocity
)

// alone is a value with one cause; none where it has no uncertainty.
func alone(value float64, c cause, u float64) term {
	if u == 0 {
		return term{value: value}
	}
	return term{value, []effect{{c, u}}}
}

// stdU is the standard uncertainty of all parts.
func (t term) stdU() float64 {
	variance := 0.0
	for _, p := range t.parts {
		variance += p.u * p.u
	}
	return math.Sqrt(variance)
}

// combined adds the parts of the inputs, each times the derivative by it: those of one
// cause with their signs. The value is left 0.
func combined(inputs []term, by []float64) term {
	n := 0
	for i := range inputs {
		n += len(inputs[i].parts)
	}
	parts := make([]effect, 0, n)
	for i := range inputs {
		for _, p := range inputs[i].parts {
			parts = append(parts, effect{p.cause, by[i] * p.u})
		}
	}
	return term{parts: merged(parts)}
}

// merged sorts parts by cause and adds those of one.
func merged(parts []effect) []effect {
	slices.SortStableFunc(parts, func(a, b effect) int {
		return cmp.Or(cmp.Compare(a.cause.kind, b.cause.kind), cmp.Compare(a.cause.number, b.cause.number), cmp.Compare(a.cause.name, b.cause.name))
	})
	out := parts[:0]
	for _, p := range parts {
		if last := len(out) - 1; last >= 0 && out[last].cause == p.cause {
			out[last].u += p.u
			continue
		}
		out = append(out, p)
	}
	return out
}

// partsOf are the parts of a rebuilt value: the coordinates that it shares, what is
// its own, and the scale of its device. Where two measures have different placing
// errors, a point that both have in common was still placed once: its error moves
// both, each by its own measure's size (correlation 1, covariance u1·u2), so that
// each keeps its own uncertainty.
func partsOf(m *analyse.Measurement, device string) []effect {
	parts := make([]effect, 0, 1+len(m.Shared))
	for _, c := range m.Shared {
		parts = append(parts, effect{cause{kind: ofCoordinate, number: c.Of.Number}, c.StdU})
	}
	own := m.OwnU
	if len(m.Shared) == 0 {
		// What is left of the variance is the calipers' own.
		own = m.Rebuilt.StdU
		if scale := m.ScaleU.StdU(); scale > 0 {
			own = math.Sqrt(math.Max(0, own*own-scale*scale))
		}
	}
	for _, p := range []effect{
		{cause{kind: ofMeasurement, number: m.Number}, own},
		{cause{kind: ofLength, name: device}, m.ScaleU.Length},
		{cause{kind: ofTime, name: device}, m.ScaleU.Time},
		{cause{kind: ofVelocity, name: device}, m.ScaleU.Velocity},
	} {
		if p.u != 0 {
			parts = append(parts, p)
		}
	}
	return merged(parts)
}
