package rebuild

import (
	"fmt"

	"leadline/analyse/physical"
)

// byPowerOfTen: a unit was taken for another of the same quantity.
func byPowerOfTen(d *differing) string {
	for _, m := range physical.MistakenUnits(d.value.Unit) {
		if d.agrees(physical.Quantity{Value: d.value.Value * m.Ratio, StdU: d.value.StdU * m.Ratio, Unit: d.value.Unit}) {
			return fmt.Sprintf("%g times the rebuilt value (a number in %s that stands as %s)", m.Ratio, m.Number, m.Label)
		}
	}
	return ""
}
