package indices

import "leadline/analyse/physical"

// The left ventricular diameters that several indices share.
var (
	lvDiastole = Input{Symbol: "LVIDd", Measure: "lv-internal-diameter-diastole", Unit: physical.MM}
	lvSystole  = Input{Symbol: "LVIDs", Measure: "lv-internal-diameter-systole", Unit: physical.MM}
)

// FS = 100·(d − s)/d. The diastolic diameter enters twice: ∂FS/∂d = 100·s/d².
// A negative one is refused as the ejection fractions are.
var fractionalShortening = Definition{
	ID: "fractional-shortening", Title: "Fractional shortening",
	Formula: "100 · (LVIDd − LVIDs) / LVIDd", Unit: physical.Percent,
	Inputs:    []Input{divisor(lvDiastole), lvSystole},
	Reference: "Lopez 2010, J Am Soc Echocardiogr 23:465 (ASE paediatric guideline); Mertens 2011, J Am Soc Echocardiogr 24:1057; from memory",
	Caution:   "holds only for a round ventricle with normal septal motion",
	Compute:   ordered(shrinking, part("the diastolic diameter")),
}
