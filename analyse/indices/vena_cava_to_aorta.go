package indices

import "leadline/analyse/physical"

var venaCavaToAorta = Definition{
	ID: "vena-cava-to-aorta", Title: "Inferior vena cava to abdominal aorta",
	Formula: "Dmax / Ao", Unit: physical.One,
	Inputs:    []Input{common(venaCavaMax), divisor(Input{Symbol: "Ao", Measure: "abdominal-aorta-diameter", Unit: physical.MM})},
	Reference: "J Ultrasound Med 2017 (200 term newborns, ouci.dntb.gov.ua 7Pgpn8Y9, seen)",
	Compute:   ratio("the aortic diameter"),
}
