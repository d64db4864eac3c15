package rebuild

// The reasons for which a measurement is not rebuilt or not compared. They are
// the ids of the findings that report them.
const (
	ReasonUncalibrated  = "caliper-uncalibrated"
	ReasonAcrossRegions = "caliper-across-regions"
	ReasonAmbiguous     = "caliper-ambiguous"
	ReasonDegenerate    = "caliper-degenerate"
	ReasonOutsideImage  = "caliper-outside-image"
	ReasonImageNotFound = "image-not-found"
	ReasonUnit          = "unit-does-not-fit"
	ReasonValueMissing  = "value-missing"
	ReasonZeroUnknown   = "zero-unknown"
	// reasonNoFault: nothing is wrong, and there is no finding.
	reasonNoFault = ""
)

// failure is why nothing was rebuilt: the id of a finding, and words. Words never
// hold what a person typed.
type failure struct{ reason, note string }

func failed(reason, note string) *failure { return &failure{reason, note} }
