package checks

import (
	"leadline/analyse"
	"leadline/ingest"
)

// DopplerScaleFlag is the finding doppler-scale-flag: velocity or frequency, the header says both.
var DopplerScaleFlag = analyse.Check{
	ID:    "doppler-scale-flag",
	Title: "velocity or frequency, the header says both",
	Doc: "Bit 2 of Region Flags says whether a spectrum is scaled in velocity or frequency (PS3.3 C.8.5.5.1.3); Physical " +
		"Units Y Direction says the other. The unit is used here; a program that trusts the flag reads other numbers.",
	Advice:   "Compare with the printed scale; ask the maker.",
	Severity: analyse.Warning,
	OfDevice: true,
	Run:      eachImage(dopplerScaleFlag),
}

// flagFrequency is bit 2 of Region Flags.
const flagFrequency = 1 << 2

func dopplerScaleFlag(img *analyse.Image) string {
	return firstRegion(img, func(r *analyse.Region) string {
		raw := r.Raw
		if !is(raw, ingest.FormatSpectral) || !raw.Flags.Set || !raw.UnitsY.Set {
			return ""
		}
		frequency := raw.Flags.Value&flagFrequency != 0
		switch {
		case frequency && raw.UnitsY.Value == ingest.UnitCMPerS:
			return "the flag says frequency, the unit cm/s"
		case !frequency && raw.UnitsY.Value == ingest.UnitHertz:
			return "the flag says velocity, the unit Hz"
		}
		return ""
	})
}
