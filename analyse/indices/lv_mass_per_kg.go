package indices

import "leadline/analyse/physical"

var lvMassPerKg = Definition{
	ID: "lv-mass-per-kg", Title: "Left ventricular mass per kilogram, corrected cube formula",
	Formula: "(0.8 · 1.04 · ((IVSd + LVIDd + PWd)³ − LVIDd³) + 0.6) / weight, cm to g", Unit: physical.GramPerKg,
	Inputs:    append(lvWalls[:3:3], bodyWeight),
	Reference: lvMass.Reference,
	Caution:   weightCaution,
	Compute:   perKg(lvMass.Compute),
}
