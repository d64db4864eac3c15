package rebuild

import (
	"fmt"

	"leadline/analyse/physical"
)

// byPowerOfTen: a unit was taken for another of the same quantity.
func byPowerOfTen(d *differing) []expected {
	var list []expected
	for _, m := range physical.MistakenUnits(d.value.Unit) {
		q := physical.Quantity{Value: d.value.Value * m.Ratio, StdU: d.value.StdU * m.Ratio, Unit: d.value.Unit}
		list = append(list, expected{q, fmt.Sprintf("%g times the rebuilt value (a number in %s that stands as %s)", m.Ratio, m.Number, m.Label)})
	}
	return list
}
