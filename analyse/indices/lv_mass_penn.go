package indices

import "leadline/analyse/physical"

// leastPennMass is the mass in g below which the subtracted constant is most of the
// result, or more than all of it: a newborn heart has some 8 g.
const leastPennMass = 20

var lvMassPenn = Definition{
	ID: "lv-mass-penn", Title: "Left ventricular mass, Penn formula",
	Formula: "1.04 · ((IVSd + LVIDd + PWd)³ − LVIDd³) − 14, cm to g", Unit: physical.Gram,
	Inputs:    lvWalls,
	Reference: "Devereux and Reichek 1977, Circulation 55:613; seen (concepedia W1995934832); other prints subtract 13.6",
	Caution:   "fitted on adults",
	Compute: func(in []float64) (float64, []float64, string) {
		mass, by, refusal := massOf(muscleDensity, 0)(in)
		if refusal == "" && mass < leastPennMass {
			refusal = "the formula takes 14 g from a heart of less than 20 g, which makes it negative or meaningless in a newborn"
		}
		return mass - 14, by, refusal
	},
}
