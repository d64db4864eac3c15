package checks

import (
	"leadline/analyse"
	"leadline/ingest"
)

// SpectralSign is the finding spectral-sign: velocity grows downward in a spectral region.
var SpectralSign = analyse.Check{
	ID:    "spectral-sign",
	Title: "velocity grows downward in a spectral region",
	Doc: "Positive velocity is drawn above the baseline, so Physical Delta Y of a spectral region is negative " +
		"(PS3.3 C.8.5.5.1.17). Real files with a positive one print the scale the other way round. Magnitudes" +
		" stand; the sign of a velocity read from this header does not.",
	Advice:   "Trust speeds, not directions, from this device; ask the maker.",
	Severity: analyse.Warning,
	OfDevice: true,
	Run:      eachImage(spectralSign),
}

func spectralSign(img *analyse.Image) string {
	return firstRegion(img, func(r *analyse.Region) string {
		raw := r.Raw
		if raw.SpatialFormat.Value == ingest.FormatSpectral && raw.DeltaY.Value > 0 && raw.UnitsY.Value == ingest.UnitCMPerS {
			return "Physical Delta Y of the spectral region is positive; magnitudes stand, signs do not"
		}
		return ""
	})
}
