package checks

import (
	"fmt"

	"leadline/analyse"
	"leadline/ingest"
)

// RegionTimeBackward is the finding region-time-backward: time runs to the left in a strip.
var RegionTimeBackward = analyse.Check{
	ID:    "region-time-backward",
	Title: "time runs to the left in a strip",
	Doc: "The Physical Delta X of a strip whose horizontal axis is time is negative. In scrolling and sweeping strips " +
		"newer data stand to the right (PS3.3 C.8.5.5.1.16.7), so it is positive. Durations take the magnitude;" +
		" which of two events came first cannot be told from this header. In a 2D picture a negative delta is" +
		" a mirrored picture and no defect; deltas of 0 are region-incomplete, deltas that are no number" +
		" header-value-unreadable.",
	Advice:   "Trust durations, not the order of events, from this device; ask the maker.",
	Severity: analyse.Warning,
	OfDevice: true,
	Run:      eachImage(regionTimeBackward),
}

func regionTimeBackward(img *analyse.Image) string {
	return firstRegion(img, func(r *analyse.Region) string {
		raw := r.Raw
		if raw.UnitsX.Set && raw.UnitsX.Value == ingest.UnitSecond && raw.DeltaX.Value < 0 {
			return fmt.Sprintf("Physical Delta X is %.3g s a pixel", raw.DeltaX.Value)
		}
		return ""
	})
}
