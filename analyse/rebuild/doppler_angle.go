package rebuild

import (
	"fmt"
	"math"

	"leadline/analyse/physical"
	"leadline/ingest"
)

const (
	// steepAngleDeg is the largest correction angle that guidance on newborn hearts
	// takes (15 to 20 degrees; Mertens 2011, J Am Soc Echocardiogr 24:1057; from memory).
	steepAngleDeg = 20
	// angleErrorDeg is the error of an angle that its effect is told for (common
	// practice, no source).
	angleErrorDeg = 5
)

// angleWords says what an error of the angle to the flow would do to velocities that were
// corrected for one, empty up to steepAngleDeg. No file says how well the angle was set,
// so it is no part of U: what runs at θ+5° and was corrected for θ is told too slow by
// cos θ / cos(θ+5°). All velocities of a strip are off alike, so ratios of them stand.
func angleWords(r *ingest.Region) string {
	angle := math.Abs(r.DopplerAngleDeg.Value)
	if !(angle > steepAngleDeg) || r.SpatialFormat.Value != ingest.FormatSpectral {
		return ""
	}
	said := fmt.Sprintf("the header states a Doppler correction angle of %g degrees; ", angle)
	if angle+angleErrorDeg >= 90 {
		return said + "at such an angle no velocity can be told"
	}
	cos := func(deg float64) float64 { return math.Cos(deg * math.Pi / 180) }
	return said + fmt.Sprintf("%d degrees more would make velocities %.1f %% larger, which is not in U", angleErrorDeg,
		100*(cos(angle)/cos(angle+angleErrorDeg)-1))
}

// ofVelocity tells that a formula is made of velocities.
func (f *formula) ofVelocity() bool { return f.y == physical.CMPerS }
