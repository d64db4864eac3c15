package indices

import "leadline/analyse/physical"

var eccentricity = Definition{
	ID: "eccentricity-index", Title: "Left ventricular eccentricity in systole",
	Formula: "D2 / D1", Unit: physical.One,
	Inputs: []Input{
		{Symbol: "D2", Measure: "lv-diameter-along-septum-systole", Unit: physical.MM},
		divisor(Input{Symbol: "D1", Measure: "lv-diameter-across-septum-systole", Unit: physical.MM}),
	},
	Reference: "Ryan 1985, J Am Coll Cardiol 5:918; from memory",
	Compute:   ratio("the diameter across the septum"),
}
