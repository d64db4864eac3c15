package indices

import "leadline/analyse/physical"

var (
	venaCavaMax = Input{Symbol: "Dmax", Measure: "inferior-vena-cava-max", Unit: physical.MM}
	venaCavaMin = Input{Symbol: "Dmin", Measure: "inferior-vena-cava-min", Unit: physical.MM}
)

// The largest diameter is the denominator; the smallest makes distensibility, the
// mean a third number. Each is an index of its own.
var venaCavaCollapsibility = Definition{
	ID: "vena-cava-collapsibility", Title: "Inferior vena cava collapsibility",
	Formula: "100 · (Dmax − Dmin) / Dmax", Unit: physical.Percent,
	Inputs:    []Input{venaCavaMax, venaCavaMin},
	Reference: "common practice; newborn diameters: Front Pediatr 2023, 10.3389/fped.2023.1268622 (seen)",
	Caution:   "for spontaneous breathing; no agreed limit exists for newborns",
	Compute:   part("the largest diameter"),
}
