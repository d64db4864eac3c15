package indices

import "leadline/analyse/physical"

var accelerationToEjectionTime = Definition{
	ID: "acceleration-to-ejection-time", Title: "Pulmonary acceleration time to right ventricular ejection time",
	Formula: "PAAT / RVET", Unit: physical.One,
	Inputs: []Input{
		{Symbol: "PAAT", Measure: "pulmonary-acceleration-time", Unit: physical.S},
		divisor(Input{Symbol: "RVET", Measure: "rv-ejection-time", Unit: physical.S}),
	},
	Reference: "Koestenberger 2017 (756 children, pubmed.ncbi.nlm.nih.gov/28003222, seen)",
	Compute:   ratio("the ejection time"),
}
