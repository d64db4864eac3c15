package indices

import (
	"math"

	"leadline/analyse/physical"
)

const (
	meanFlowReference = "Alverson 1984 (Thieme s-2007-999991, abstract seen)"
	meanFlowCaution   = "the diameter enters squared; the velocity is taken as the mean over whole beats, as its label says; that over the ejection alone is two or three times as large"
)

var meanOutflow = []Input{
	{Symbol: "d", Measure: leftVentricle.diameter, Unit: physical.MM, Common: true},
	{Symbol: "Vmean", Measure: "lv-outflow-time-averaged-mean-velocity", Unit: physical.CMPerS},
}

// Output without a heart rate: mean velocity times the area of the outflow. The mean of a
// trace of the ejection, which devices call Vmean, is another measure and no input.
var (
	outputByMeanVelocity = Definition{
		ID: "lv-output-by-mean-velocity", Title: "Left ventricular output from the mean velocity",
		Formula: "π/4 · d² · |Vmean| · 60 s", Unit: physical.MLPerMin,
		Inputs: meanOutflow, Reference: meanFlowReference, Caution: meanFlowCaution, Compute: meanFlow,
	}
	outputByMeanVelocityPerKg = Definition{
		ID: "lv-output-by-mean-velocity-per-kg", Title: "Left ventricular output per kilogram from the mean velocity",
		Formula: "π/4 · d² · |Vmean| · 60 s / weight", Unit: physical.MLPerMinPerKg,
		Inputs: append(meanOutflow[:2:2], bodyWeight), Reference: meanFlowReference, Caution: meanFlowCaution + "; " + weightCaution, Compute: perKg(meanFlow),
	}
)

// meanFlow is in mL/min: mm² and cm/s are 0.01 cm³/s.
func meanFlow(in []float64) (float64, []float64, string) {
	d, v := in[0], in[1]
	switch {
	case d <= 0:
		return 0, nil, "the diameter is not above 0"
	case v == 0:
		return 0, nil, "the mean velocity is 0"
	}
	const k = math.Pi / 4 * 0.01 * 60
	return k * d * d * math.Abs(v), []float64{2 * k * d * math.Abs(v), k * d * d * math.Copysign(1, v)}, ""
}
