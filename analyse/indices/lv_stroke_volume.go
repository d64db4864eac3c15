package indices

import (
	"math"

	"leadline/analyse/physical"
)

// The left outflow tract: diameter and velocity-time integral, both in mm.
var (
	outflowDiameter = Input{Symbol: "d", Measure: "lv-outflow-diameter", Unit: physical.MM}
	outflowVTI      = Input{Symbol: "VTI", Measure: "lv-outflow-vti", Unit: physical.MM}
)

const mm3PerML = 1000

var lvStrokeVolume = Definition{
	ID: "lv-stroke-volume", Title: "Left ventricular stroke volume from outflow Doppler",
	Formula: "π/4 · d² · VTI", Unit: physical.ML,
	Inputs:    []Input{outflowDiameter, outflowVTI},
	Reference: "flow continuity; used in newborns by Mertens 2011, J Am Soc Echocardiogr 24:1057; from memory",
	Caution:   "the diameter enters squared and dominates the uncertainty",
	Compute:   strokeVolume,
}

func strokeVolume(in []float64) (float64, []float64, string) {
	d, vti := in[0], in[1]
	if d <= 0 {
		return 0, nil, "the outflow diameter is not above 0"
	}
	k := math.Pi / 4 / mm3PerML
	return k * d * d * vti, []float64{2 * k * d * vti, k * d * d}, ""
}
