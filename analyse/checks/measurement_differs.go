package checks

import (
	"fmt"

	"leadline/analyse"
	"leadline/ingest"
)

// MeasurementDiffers is the finding measurement-differs: a reported value differs from its own caliper.
var MeasurementDiffers = analyse.Check{
	ID:    "measurement-differs",
	Title: "a reported value differs from its own caliper",
	Doc: "The number in the report and the points it was taken from do not agree within half a unit of the " +
		"last printed place and the expanded uncertainty of the rebuilt value (k = 2).",
	Advice: "Look at the image: was the caliper moved after the number was stored, the unit mixed up, or the " +
		"picture rescaled?",
	Severity: analyse.Error,
	Run:      eachMeasurement(measurementDiffers),
}

func measurementDiffers(m *analyse.Measurement) string {
	if m.Verdict != analyse.VerdictDiffers {
		return ""
	}
	return fmt.Sprintf("%s: reported %s %s, rebuilt %.4g %s (difference %+.3g %s, allowed %.2g)%s", name(m), m.Reported.Text, m.Reported.Unit,
		m.Rebuilt.Value, m.Rebuilt.Unit, m.Difference.Value, m.Rebuilt.Unit, m.Tolerance.Value, ratioHint(m.Difference, m.Rebuilt.Value))
}

// ratioHint names the ratio where it looks like a unit mixed up.
func ratioHint(difference ingest.Optional[float64], rebuilt float64) string {
	if rebuilt == 0 {
		return ""
	}
	ratio := 1 + difference.Value/rebuilt
	for _, known := range []float64{10, 100, 1000, 0.1, 0.01, 0.001} {
		if ratio > 0.9*known && ratio < 1.1*known {
			return fmt.Sprintf("; about %g times: a unit mixed up?", known)
		}
	}
	return ""
}
