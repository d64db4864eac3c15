package indices

import (
	"math"

	"leadline/analyse/physical"
)

var (
	lvEjectionTime = Input{Symbol: "ET", Measure: "lv-ejection-time", Unit: physical.S}
	rvEjectionTime = Input{Symbol: "ET", Measure: "rv-ejection-time", Unit: physical.S}
)

// A table in print writes FS × ET; circumferences per second are FS / ET.
var meanVCF = Definition{
	ID: "mean-vcf", Title: "Mean velocity of circumferential fibre shortening",
	Formula: "(LVIDd − LVIDs) / LVIDd / ET", Unit: physical.PerS,
	Inputs:    []Input{divisor(common(lvDiastole)), common(lvSystole), divisor(lvEjectionTime)},
	Reference: "Sahn 1974 (72 normal newborns, scilit.net e00d978a9f3f91435d478bb0e97afe3b, seen)",
	Caution:   "in circumferences per second; holds only for a round ventricle",
	Compute:   shorteningRate,
}

// meanVCFCorrected refers to a heart rate of 60 per minute: the R-R interval is
// divided by one second before the root.
var meanVCFCorrected = Definition{
	ID: "mean-vcf-corrected", Title: "Mean velocity of circumferential fibre shortening, corrected for heart rate",
	Formula: "(LVIDd − LVIDs) / LVIDd · √RR / ET, RR in s", Unit: physical.PerS,
	Inputs:    []Input{divisor(common(lvDiastole)), common(lvSystole), divisor(lvEjectionTime), common(rrInterval)},
	Reference: "Colan 1984, J Am Coll Cardiol 4:715; from memory",
	Caution:   "in circumferences per second at 60 beats a minute; holds only for a round ventricle",
	Compute: func(in []float64) (float64, []float64, string) {
		rr := in[3]
		if rr <= 0 {
			return 0, nil, "the R-R interval is not above 0"
		}
		v, by, refusal := shorteningRate(in[:3])
		root := math.Sqrt(rr)
		for i := range by {
			by[i] *= root
		}
		return v * root, append(by, v/(2*root)), refusal
	},
}

func shorteningRate(in []float64) (float64, []float64, string) {
	d, s, t := in[0], in[1], in[2]
	if refusal := shrinking(in[:2]); refusal != "" {
		return 0, nil, refusal
	}
	if t <= 0 {
		return 0, nil, "the ejection time is not above 0"
	}
	fs := (d - s) / d
	return fs / t, []float64{s / (d * d * t), -1 / (d * t), -fs / (t * t)}, ""
}
