package checks

import (
	"fmt"

	"leadline/analyse"
	"leadline/analyse/physical"
)

// MeasurementDiffers is the finding measurement-differs: a reported value differs from its own caliper.
var MeasurementDiffers = analyse.Check{
	ID:    "measurement-differs",
	Title: "a reported value differs from its own caliper",
	Doc: "The number in the report and the points it was taken from do not agree within half a unit of the " +
		"last printed place and the expanded uncertainty of the rebuilt value (k = 2). Where a typical fault would " +
		"make them agree by the same rule, the message names it, and all of several: a power of ten between units, " +
		"a picture resampled after calibration, Pixel Spacing in place of the region, row and column spacing " +
		"swapped, the scale of another region, another frame timing. Nothing is corrected by it.",
	Advice: "Look at the image: was the caliper moved after the number was stored? Where a fault is named, see " +
		"whether other values of the device show the same.",
	Severity: analyse.Error,
	Run:      eachMeasurement(measurementDiffers),
}

func measurementDiffers(m *analyse.Measurement) string {
	if m.Verdict != analyse.VerdictDiffers {
		return ""
	}
	return fmt.Sprintf("%s: reported %s %s, rebuilt %.4g %s (difference %+.3g %s, allowed %.2g)%s", name(m), m.Reported.Text, physical.Printed(m.Reported.Unit),
		m.Rebuilt.Value, physical.Printed(m.Rebuilt.Unit), m.Difference.Value, physical.Printed(m.Rebuilt.Unit), m.Tolerance.Value, evidence(m.Faults))
}

// evidence names the typical faults that would explain the difference.
func evidence(faults []analyse.Fault) string {
	if len(faults) == 0 {
		return ""
	}
	return "; " + analyse.FaultWords(faults)
}
