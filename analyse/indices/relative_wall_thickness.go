package indices

import "leadline/analyse/physical"

var relativeWallThickness = Definition{
	ID: "relative-wall-thickness", Title: "Relative wall thickness of the left ventricle",
	Formula: "2 · PWd / LVIDd", Unit: physical.One,
	Inputs:    []Input{wallDiastole, divisor(common(lvDiastole))},
	Reference: "Lang 2015, J Am Soc Echocardiogr 28:1; from memory",
	Compute:   scaledRatio(2, "the diastolic diameter"),
}
