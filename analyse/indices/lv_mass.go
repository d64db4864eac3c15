package indices

import "leadline/analyse/physical"

// The walls of the left ventricle at end diastole.
var (
	septumDiastole = Input{Symbol: "IVSd", Measure: "interventricular-septum-diastole", Unit: physical.MM}
	wallDiastole   = Input{Symbol: "PWd", Measure: "lv-posterior-wall-diastole", Unit: physical.MM}
	lvWalls        = []Input{septumDiastole, common(lvDiastole), wallDiastole}
)

// muscleDensity is that of heart muscle in g/mL, as the cube formulas take it.
const muscleDensity = 1.04

var lvMass = Definition{
	ID: "lv-mass", Title: "Left ventricular mass, corrected cube formula",
	Formula: "0.8 · 1.04 · ((IVSd + LVIDd + PWd)³ − LVIDd³) + 0.6, cm to g", Unit: physical.Gram,
	Inputs:    lvWalls,
	Reference: "Devereux 1986, Am J Cardiol 57:450; form seen (accessanesthesiology.mhmedical.com 417/40109098)",
	Caution:   "fitted on adults; the constant of 0.6 g is a tenth of a newborn heart: see the cube formula without correction",
	Compute:   massOf(0.8*muscleDensity, 0.6),
}

// massOf is k·(outer cube − inner cube) + c in g, from lengths in mm.
func massOf(k, c float64) func([]float64) (float64, []float64, string) {
	return func(in []float64) (float64, []float64, string) {
		shell, by, refusal := wallVolume(in)
		for i := range by {
			by[i] *= k
		}
		return k*shell + c, by, refusal
	}
}

// wallVolume is the volume of the walls in mL: the cube of the outer diameter less
// that of the inner one, from septum, cavity and posterior wall in mm.
func wallVolume(in []float64) (float64, []float64, string) {
	const mmPerCM = 10
	septum, cavity, wall := in[0]/mmPerCM, in[1]/mmPerCM, in[2]/mmPerCM
	if septum <= 0 || cavity <= 0 || wall <= 0 {
		return 0, nil, "a wall or the cavity is not above 0"
	}
	outer := septum + cavity + wall
	byOuter := 3 * outer * outer / mmPerCM
	return outer*outer*outer - cavity*cavity*cavity, []float64{byOuter, byOuter - 3*cavity*cavity/mmPerCM, byOuter}, ""
}
