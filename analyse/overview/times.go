package overview

import (
	"leadline/analyse"
	"leadline/analyse/stats"
	"leadline/ingest"
)

// Times says of all studies when they were made and documented.
type Times struct {
	// Timed counts the studies of which the hour is known, Night and Weekend those of
	// them.
	Timed, Night, Weekend int
	// Durations, Reports and Verifications are medians.
	DurationS, ReportH, VerifiedH Middle
	// Devices counts the devices, ToLook those of which a clock should be looked at.
	Devices, ToLook int
}

// Middle is a median with the number of studies it is of, absent where it is none.
type Middle struct {
	Value   ingest.Optional[float64]
	Studies int
}

func timesOf(r *analyse.Result) Times {
	var t Times
	var durations, reports, verified []float64
	for _, s := range r.Studies {
		if night, known := s.Timing.Night.Get(); known {
			t.Timed++
			t.Night += one(night)
			t.Weekend += one(s.Timing.Weekend.Value)
		}
		durations = appendKnown(durations, s.DurationS)
		reports = appendKnown(reports, s.Timing.ReportH)
		verified = appendKnown(verified, s.Timing.VerifiedH)
	}
	t.DurationS, t.ReportH, t.VerifiedH = middle(durations), middle(reports), middle(verified)
	t.Devices = len(r.Clocks)
	for _, c := range r.Clocks {
		t.ToLook += one(look(c))
	}
	return t
}

func look(c analyse.DeviceClock) bool {
	for _, f := range c.Facts {
		if f.Verdict == analyse.ClockLook {
			return true
		}
	}
	return false
}

func one(yes bool) int {
	if yes {
		return 1
	}
	return 0
}

func appendKnown(list []float64, v ingest.Optional[float64]) []float64 {
	if v.Set {
		list = append(list, v.Value)
	}
	return list
}

func middle(values []float64) Middle {
	if len(values) == 0 {
		return Middle{}
	}
	return Middle{ingest.Some(stats.Median(values)), len(values)}
}
