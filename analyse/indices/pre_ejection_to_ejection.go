package indices

import "leadline/analyse/physical"

var (
	lvPreEjection = preEjection("lv", "Left", lvEjectionTime)
	rvPreEjection = preEjection("rv", "Right", rvEjectionTime)
)

func preEjection(id, side string, ejection Input) Definition {
	return Definition{
		ID: id + "-pre-ejection-to-ejection", Title: side + " ventricular pre-ejection period to ejection time",
		Formula: "PEP / ET", Unit: physical.One,
		Inputs:    []Input{{Symbol: "PEP", Measure: id + "-pre-ejection-period", Unit: physical.S}, divisor(common(ejection))},
		Reference: "Halliday 1978 (right side, PubMed 704203, abstract seen)",
		Compute:   ratio("the ejection time"),
	}
}
