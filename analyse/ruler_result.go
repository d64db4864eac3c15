package analyse

import (
	"leadline/analyse/ruler"
	"leadline/ingest"
)

// Ruler is what the ruler in a picture says, held against the header. It is there only
// where pictures were looked at.
type Ruler struct {
	*ruler.Reading
	// HeaderPerCM is how many pixels the header gives a centimetre of depth, From
	// where it says so.
	HeaderPerCM ingest.Optional[float64]
	From        CalibrationSource
	// Ratio is ruler ÷ header, U its standard uncertainty; absent where either is.
	Ratio, U ingest.Optional[float64]
	// EstimatedMM is the size of a pixel along the depth in mm by the ruler alone, with
	// its standard uncertainty, where the header gives none. It is offered, and no
	// measurement uses it.
	EstimatedMM, EstimatedU ingest.Optional[float64]
}
