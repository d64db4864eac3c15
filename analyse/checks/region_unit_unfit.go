package checks

import (
	"slices"

	"leadline/analyse"
	"leadline/ingest"
)

// RegionUnitUnfit is the finding region-unit-unfit: a region's unit does not fit what it shows.
var RegionUnitUnfit = analyse.Check{
	ID:    "region-unit-unfit",
	Title: "a region's unit does not fit what it shows",
	Doc: "2D regions are scaled in cm both ways, M-mode strips in s and cm, spectra in s and cm/s or Hz, traces in s and the" +
		" unit of their data type (PS3.3 C.8.5.5.1.1, .2, .15; examples in C.8.5.5.1.16). Another unit means that one" +
		" of the codes is wrong, or that a 2D picture is in angles, where no length can be taken.",
	Advice:   "Do not measure in this region; ask the maker.",
	Severity: analyse.Warning,
	OfDevice: true,
	Run:      eachImage(regionUnitUnfit),
}

// fitting are the vertical units of a format, and of a trace by its data type; what
// is not listed may have any.
var (
	fittingFormat = map[uint16][]uint16{
		ingest.Format2D: {ingest.UnitCM}, ingest.FormatMMode: {ingest.UnitCM},
		ingest.FormatSpectral: {ingest.UnitCMPerS, ingest.UnitHertz},
	}
	fittingTrace = map[uint16][]uint16{
		5: {ingest.UnitCMPerS, ingest.UnitHertz}, 6: {ingest.UnitCMPerS, ingest.UnitHertz}, 7: {ingest.UnitCMPerS, ingest.UnitHertz},
		8: {ingest.UnitCM3}, 9: {ingest.UnitCM3PerS}, 16: {ingest.UnitCM2}, 17: {ingest.UnitCM2PerS},
	}
)

// regionUnitUnfit leaves the unit none alone: such an axis has no scale, and says so.
func regionUnitUnfit(img *analyse.Image) string {
	return firstRegion(img, func(r *analyse.Region) string {
		across, down := []uint16{ingest.UnitSecond}, fittingFormat[r.Raw.SpatialFormat.Value]
		switch {
		case !r.Raw.SpatialFormat.Set:
			return ""
		case is(r.Raw, ingest.Format2D):
			across = down
		case is(r.Raw, ingest.FormatWaveform):
			down = fittingTrace[r.Raw.DataType.Value]
		case down == nil:
			return ""
		}
		switch {
		case unfit(r.Raw.UnitsX, across):
			return "a " + r.Format + " region whose horizontal unit is " + r.UnitsX
		case unfit(r.Raw.UnitsY, down):
			return "a " + r.Format + " region of " + r.DataType + " whose vertical unit is " + r.UnitsY
		}
		return ""
	})
}

func unfit(unit ingest.Optional[uint16], fitting []uint16) bool {
	return unit.Set && unit.Value != ingest.UnitNone && fitting != nil && !slices.Contains(fitting, unit.Value)
}
