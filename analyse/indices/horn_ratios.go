package indices

import "leadline/analyse/physical"

var (
	frontalHorns = Input{Symbol: "FHW", Measure: "frontal-horn-span", Unit: physical.MM}
	skullWidth   = divisor(Input{Symbol: "BPD", Measure: "biparietal-diameter", Unit: physical.MM, Common: true})
)

const hornCaution = "each width may come from an image of its own"

var (
	frontalOccipitalRatio = hornRatio("frontal-occipital-horn-ratio", "Frontal and occipital horn ratio", "OHW", "occipital-horn-span",
		"O'Hayon 1998, Pediatr Neurosurg 29:245; from memory")
	frontalTemporalRatio = hornRatio("frontal-temporal-horn-ratio", "Frontal and temporal horn ratio", "THW", "temporal-horn-span",
		"Radhakrishnan 2019 (indiana.pure.elsevier.com, abstract seen)")
	frontalHornRatio = Definition{
		ID: "frontal-horn-to-biparietal", Title: "Frontal horn width to biparietal diameter",
		Formula: "FHW / BPD", Unit: physical.One,
		Inputs:    []Input{frontalHorns, skullWidth},
		Reference: "common practice, no source",
		Caution:   hornCaution,
		Compute:   ratio("the biparietal diameter"),
	}
)

func hornRatio(id, title, symbol, measure, reference string) Definition {
	return Definition{
		ID: id, Title: title, Formula: "(FHW + " + symbol + ") / (2 · BPD)", Unit: physical.One,
		Inputs:    []Input{common(frontalHorns), {Symbol: symbol, Measure: measure, Unit: physical.MM}, skullWidth},
		Reference: reference,
		Caution:   hornCaution,
		Compute: func(in []float64) (float64, []float64, string) {
			v, by, refusal := ratio("the biparietal diameter")([]float64{(in[0] + in[1]) / 2, in[2]})
			if refusal != "" {
				return 0, nil, refusal
			}
			return v, []float64{by[0] / 2, by[0] / 2, by[1]}, ""
		},
	}
}
