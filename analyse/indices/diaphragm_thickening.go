package indices

import "leadline/analyse/physical"

func diaphragmThickening(id, title string) Definition {
	return Definition{
		ID: id + "-thickening-fraction", Title: "Thickening fraction, " + title,
		Formula: "100 · (Ti − Te) / Te", Unit: physical.Percent,
		Inputs: []Input{
			{Symbol: "Ti", Measure: id + "-thickness-inspiration", Unit: physical.MM},
			divisor(Input{Symbol: "Te", Measure: id + "-thickness-expiration", Unit: physical.MM}),
		},
		Reference: "formula seen (pmc.ncbi.nlm.nih.gov/articles/PMC4057909)",
		Caution:   "a pixel more or less moves it by several points; observers agree poorly (Eur J Pediatr 2024;183:3453, seen)",
		Compute:   increase("the thickness at expiration"),
	}
}

var diaphragms = []bodyPart{{"diaphragm", "diaphragm", true}}
