package indices

import "leadline/analyse/physical"

// pulsatilityIndex divides by the mean of the envelope; where only the mean of the
// intensity-weighted velocity was measured it takes that, and its note says so:
// published values of the two differ by more than twice.
func pulsatilityIndex(id, title string) Definition {
	// Without a mean velocity there is no row: most strips have only the other two.
	return Definition{
		ID: "pulsatility-index-" + id, Title: "Pulsatility index, " + title,
		Formula: "(PSV − EDV) / Vmean", Unit: physical.One,
		Inputs: []Input{common(peak(id)), common(endDiastolic(id)), divisor(Input{
			Symbol: "Vmean", Unit: physical.CMPerS,
			Measure: id + "-time-averaged-velocity", Or: id + "-time-averaged-mean-velocity",
		})},
		Reference: "Gosling and King 1974; from memory",
		Caution:   "Vmean is the time average of the envelope unless said otherwise",
		Compute: func(in []float64) (float64, []float64, string) {
			v, sign, refusal := upright(in)
			if refusal != "" {
				return 0, nil, refusal
			}
			p, e, m := v[0], v[1], v[2]
			if m <= 0 {
				return 0, nil, "the mean velocity is not in the direction of systole"
			}
			return (p - e) / m, turned([]float64{1 / m, -1 / m, -(p - e) / (m * m)}, sign), ""
		},
	}
}
