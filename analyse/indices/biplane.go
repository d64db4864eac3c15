package indices

import "leadline/analyse/physical"

const (
	discsReference = "Schiller 1989, J Am Soc Echocardiogr 2:358; from memory"
	discsCaution   = "views that miss the apex make the volumes too small"
)

// The volumes of one beat by discs from both planes.
var (
	biplaneDiastole = Input{Symbol: "EDV", Measure: "lv-biplane-volume-diastole", Unit: physical.ML}
	biplaneSystole  = Input{Symbol: "ESV", Measure: "lv-biplane-volume-systole", Unit: physical.ML}
)

var biplaneEjectionFraction = Definition{
	ID: "ejection-fraction-biplane", Title: "Ejection fraction, biplane by discs",
	Formula: "100 · (EDV − ESV) / EDV", Unit: physical.Percent,
	Inputs:    []Input{divisor(biplaneDiastole), biplaneSystole},
	Reference: discsReference, Caution: discsCaution,
	Compute: ejectionFractionByVolumes.Compute,
}

var fourChamberEjectionFraction = Definition{
	ID: "ejection-fraction-four-chamber", Title: "Ejection fraction, four-chamber view by discs",
	Formula: "100 · (EDV − ESV) / EDV", Unit: physical.Percent,
	Inputs: []Input{
		divisor(Input{Symbol: "EDV", Measure: "lv-four-chamber-volume-diastole", Unit: physical.ML}),
		{Symbol: "ESV", Measure: "lv-four-chamber-volume-systole", Unit: physical.ML},
	},
	Reference: discsReference, Caution: discsCaution,
	Compute: ejectionFractionByVolumes.Compute,
}

var biplaneStrokeVolume = Definition{
	ID: "stroke-volume-biplane", Title: "Stroke volume, biplane by discs",
	Formula: "EDV − ESV", Unit: physical.ML,
	Inputs:    []Input{biplaneDiastole, biplaneSystole},
	Reference: discsReference, Caution: discsCaution,
	Compute: emptied,
}

var biplaneStrokeVolumePerKg = Definition{
	ID: "stroke-volume-biplane-per-kg", Title: "Stroke volume per kilogram, biplane by discs",
	Formula: "(EDV − ESV) / weight", Unit: physical.MLPerKg,
	Inputs:    []Input{biplaneDiastole, biplaneSystole, bodyWeight},
	Reference: discsReference, Caution: weightCaution,
	Compute: perKg(emptied),
}

// emptied is what a ventricle loses with a beat.
func emptied(in []float64) (float64, []float64, string) {
	if in[1] > in[0] {
		return 0, nil, "the systolic volume is larger than the diastolic one"
	}
	return in[0] - in[1], []float64{1, -1}, ""
}
