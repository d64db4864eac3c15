package physical

import (
	"cmp"
	"math"
	"slices"
	"sync"
)

// Mistaken is a unit taken for another: a number in the unit Number that stands as
// one in the unit Label is Ratio times too large.
type Mistaken struct {
	Ratio         float64
	Number, Label string
}

// MistakenUnits are the units of one quantity whose steps are powers of ten, each
// ratio once, the smallest first. Units are spelled as in UCUM; where several pairs
// have one ratio, that nearest to the unit used inside is named.
func MistakenUnits(u Unit) []Mistaken { return mistakenUnits()[u] }

var mistakenUnits = sync.OnceValue(func() map[Unit][]Mistaken {
	type spelling struct {
		factor float64
		name   string
	}
	byUnit := map[Unit][]spelling{}
	for conversion, names := range unitSpellings {
		byUnit[conversion.Unit] = append(byUnit[conversion.Unit], spelling{conversion.Factor, names[0]})
	}
	out := map[Unit][]Mistaken{}
	for unit, list := range byUnit {
		slices.SortFunc(list, func(a, b spelling) int {
			return cmp.Or(cmp.Compare(math.Abs(math.Log10(a.factor)), math.Abs(math.Log10(b.factor))), cmp.Compare(b.factor, a.factor))
		})
		for _, label := range list {
			for _, number := range list {
				power := math.Log10(label.factor / number.factor)
				ratio := math.Pow10(int(math.Round(power)))
				if math.Abs(power-math.Round(power)) > 1e-9 || ratio == 1 ||
					slices.ContainsFunc(out[unit], func(m Mistaken) bool { return m.Ratio == ratio }) {
					continue
				}
				out[unit] = append(out[unit], Mistaken{ratio, number.name, label.name})
			}
		}
		slices.SortFunc(out[unit], func(a, b Mistaken) int { return cmp.Compare(a.Ratio, b.Ratio) })
	}
	return out
})
