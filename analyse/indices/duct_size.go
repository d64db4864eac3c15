package indices

import "leadline/analyse/physical"

var ductDiameter = Input{Symbol: "duct", Measure: "duct-diameter", Unit: physical.MM}

var (
	ductPerKg = Definition{
		ID: "duct-diameter-per-kg", Title: "Ductus arteriosus diameter per kilogram",
		Formula: "duct / weight", Unit: physical.MMPerKg,
		Inputs:    []Input{ductDiameter, bodyWeight},
		Reference: "Engur 2015, Cardiol Young (abstract seen)",
		Caution:   weightCaution,
		Compute:   perKg(func(in []float64) (float64, []float64, string) { return in[0], []float64{1}, "" }),
	}
	ductToPulmonaryArtery = Definition{
		ID: "duct-to-left-pulmonary-artery", Title: "Ductus arteriosus to left pulmonary artery",
		Formula: "duct / LPA", Unit: physical.One,
		Inputs: []Input{
			common(ductDiameter),
			divisor(Input{Symbol: "LPA", Measure: "left-pulmonary-artery-diameter", Unit: physical.MM}),
		},
		Reference: "Ramos 2010, J Perinatol (abstract seen)",
		Compute:   ratio("the diameter of the left pulmonary artery"),
	}
	lvToAorticRoot = Definition{
		ID: "lv-to-aortic-root", Title: "Left ventricle to aortic root",
		Formula: "LVIDd / Ao", Unit: physical.One,
		Inputs:    []Input{common(lvDiastole), divisor(Input{Symbol: "Ao", Measure: "aortic-root-diameter", Unit: physical.MM})},
		Reference: "Engur 2015, Cardiol Young (abstract seen)",
		Compute:   ratio("the aortic root diameter"),
	}
)
