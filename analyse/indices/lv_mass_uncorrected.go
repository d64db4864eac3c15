package indices

import "leadline/analyse/physical"

// Two densities are in print; they stand side by side.
var (
	lvMassUncorrected = Definition{
		ID: "lv-mass-uncorrected", Title: "Left ventricular mass, cube formula without correction",
		Formula: "1.04 · ((IVSd + LVIDd + PWd)³ − LVIDd³), cm to g", Unit: physical.Gram,
		Inputs:    lvWalls,
		Reference: "the cube formula that Devereux 1986, Am J Cardiol 57:450, corrects; from memory",
		Caution:   "larger than the corrected formula",
		Compute:   massOf(muscleDensity, 0),
	}
	lvMassYoung = Definition{
		ID: "lv-mass-density-1-05", Title: "Left ventricular mass, cube formula of a series from birth on",
		Formula: "1.05 · ((IVSd + LVIDd + PWd)³ − LVIDd³), cm to g", Unit: physical.Gram,
		Inputs:    lvWalls,
		Reference: "241 normal subjects, 1 day to 97 years (scilit.net bbfe39b688c28da60405af7678b2e732, seen)",
		Caution:   "its prediction interval in the young group was ±32 %",
		Compute:   massOf(1.05, 0),
	}
)
