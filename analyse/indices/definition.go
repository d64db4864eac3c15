// Package indices derives quantities from measurements: fractional shortening,
// resistive index, stroke volume and so on, each with its formula, its source and
// its uncertainty.
//
// No index is clipped, none is filled in: where an input is missing the index is
// absent and says why. Published ranges are no part of it: they stand in the
// reference tables, each with its population.
package indices

import (
	"leadline/analyse"
	"leadline/analyse/physical"
)

// Definition is one index.
type Definition struct {
	// ID is a kebab word; Formula is written in the symbols of Inputs.
	ID, Title, Formula string
	Unit               physical.Unit
	// Inputs are the quantities of the formula, each one once: an input that the
	// formula uses twice stays one and the same (JCGM 100:2008 5.2, full correlation).
	Inputs []Input
	// Side restricts the inputs to one side of the body; Unsided to measurements
	// that tell no side.
	Side    string
	Unsided bool
	// Reference is the published source, with how it was seen. Caution goes onto
	// every row.
	Reference, Caution string
	// Compute gives the value and its partial derivative by every input. in holds
	// the inputs in order, each in its own unit. A refusal says in words why the
	// formula has no meaning for them.
	Compute func(in []float64) (value float64, partials []float64, refusal string)
}

// Input is one quantity that a formula needs.
type Input struct {
	// Symbol stands in the formula; Measure is the measure's id, empty for Header and
	// Assumed.
	Symbol, Measure string
	// Or is another measure that serves where the first was not taken, As an index
	// whose value does.
	Or string
	As *Definition
	// Unit is that of the value handed to Compute.
	Unit physical.Unit
	// Side restricts this input alone, where the index takes both sides.
	Side string
	// Count tells a whole number that was counted, such as beats or a score: as
	// reported it has no rounding.
	Count bool
	// Common tells an input that many studies have without its index being meant; it
	// alone makes no row.
	Common bool
	// Divides tells that the formula has no finite value where the input is 0.
	Divides bool
	// Header reads the value from the study header instead.
	Header func(*analyse.Study) (physical.Quantity, string)
	// Assumed, with a unit, is a value that nobody measured and no header holds.
	Assumed physical.Quantity
}

// common is an input that does not make a row of its index alone.
func common(in Input) Input {
	in.Common = true
	return in
}

// divisor is an input that the formula divides by.
func divisor(in Input) Input {
	in.Divides = true
	return in
}

// Measures are the ids of all measures that the index may use, in order.
func (d *Definition) Measures() []string {
	var ids []string
	for i := range d.Inputs {
		in := &d.Inputs[i]
		for _, id := range []string{in.Measure, in.Or} {
			if id != "" {
				ids = append(ids, id)
			}
		}
		if in.As != nil {
			ids = append(ids, in.As.Measures()...)
		}
	}
	return ids
}
