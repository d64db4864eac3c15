package indices

import (
	"math"

	"leadline/analyse/physical"
)

const mm3PerML = 1000

// ventricle is one side of the heart with the measures of its outflow.
type ventricle struct{ id, title, diameter, vti string }

var (
	leftVentricle  = ventricle{"lv", "Left ventricular", "lv-outflow-diameter", "lv-outflow-vti"}
	rightVentricle = ventricle{"rv", "Right ventricular", "rv-outflow-diameter", "rv-outflow-vti"}
)

// outflow are the diameter and the velocity-time integral, both in mm.
func (v ventricle) outflow() []Input {
	return []Input{
		{Symbol: "d", Measure: v.diameter, Unit: physical.MM},
		{Symbol: "VTI", Measure: v.vti, Unit: physical.MM},
	}
}

// beatRate is the measured heart rate, else that of the R-R interval.
var beatRate = Input{Symbol: "HR", Measure: "heart-rate", As: &heartRate, Unit: physical.PerMin, Common: true}

// bodyWeight is Patient's Weight.
var bodyWeight = divisor(Input{Symbol: "weight", Unit: kilogram, Common: true, Header: weight})

const (
	flowReference = "flow continuity; used in newborns by Mertens 2011, J Am Soc Echocardiogr 24:1057; from memory"
	flowCaution   = "the diameter enters squared and dominates the uncertainty; whether flow runs to or from the transducer is left out"
	weightCaution = "the weight is the header's; its age is not known"
)

// flow is π/4·d²·|VTI| in mL. Flow away from the transducer has a negative integral,
// and no other stroke volume.
func flow(in []float64) (float64, []float64, string) {
	d, vti := in[0], in[1]
	switch {
	case d <= 0:
		return 0, nil, "the diameter is not above 0"
	case vti == 0:
		return 0, nil, "the velocity-time integral is 0"
	}
	k := math.Pi / 4 / mm3PerML
	size := math.Abs(vti)
	return k * d * d * size, []float64{2 * k * d * size, k * d * d * math.Copysign(1, vti)}, ""
}

// times multiplies the last input into what the others give.
func times(f func([]float64) (float64, []float64, string), refuse string) func([]float64) (float64, []float64, string) {
	return func(in []float64) (float64, []float64, string) {
		last := len(in) - 1
		if in[last] <= 0 {
			return 0, nil, refuse
		}
		v, by, refusal := f(in[:last])
		for i := range by {
			by[i] *= in[last]
		}
		return v * in[last], append(by, v), refusal
	}
}

// perKg divides what the other inputs give by the last, the weight.
func perKg(f func([]float64) (float64, []float64, string)) func([]float64) (float64, []float64, string) {
	return func(in []float64) (float64, []float64, string) {
		last := len(in) - 1
		kg := in[last]
		if kg <= 0 {
			return 0, nil, "the weight is not above 0"
		}
		v, by, refusal := f(in[:last])
		for i := range by {
			by[i] /= kg
		}
		return v / kg, append(by, -v/(kg*kg)), refusal
	}
}
