package indices

import "leadline/analyse/physical"

// taken are the measures that are read as they are, so that their index is the mean
// of the takes with its spread.
var taken = []bodyPart{
	{"tapse", "tricuspid annular excursion (TAPSE)", false}, {"mapse", "mitral annular excursion (MAPSE)", false},
	{"duct-diameter", "ductus arteriosus diameter", false},
	{"ventricular-index", "ventricular index", true}, {"anterior-horn-width", "anterior horn width", true},
	{"thalamo-occipital-distance", "thalamo-occipital distance", true}, {"diaphragm-excursion", "diaphragm excursion", true},
}

func meanOfTakes(id, title string) Definition {
	return Definition{
		ID: id + "-mean", Title: "Mean of the takes, " + title,
		Formula: "mean of x", Unit: physical.MM,
		Inputs:    []Input{{Symbol: "x", Measure: id, Unit: physical.MM}},
		Reference: "by definition",
		Compute:   func(in []float64) (float64, []float64, string) { return in[0], []float64{1}, "" },
	}
}
