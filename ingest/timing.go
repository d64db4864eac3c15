package ingest

import "leadline/ingest/dcm"

// Timing holds every attribute that tells when the frames of an image were
// taken (PS3.3 C.7.6.5, C.8.5.6), in the units of the file.
type Timing struct {
	// IncrementPointer names the element that orders the frames.
	IncrementPointer []dcm.Tag
	FrameTimeMS      Optional[float64]
	// FrameTimeVectorMS holds the increment before each frame; the first is 0 by
	// the standard, and is not in real files.
	FrameTimeVectorMS                 []float64
	FrameDelayMS, ImageTriggerDelayMS Optional[float64]
	CineRateHz, RecommendedHz         Optional[float64]
	ActualFrameDurationMS             Optional[float64]
	EffectiveDurationS                Optional[float64]
	StartTrim, StopTrim               Optional[int64]
	PlaybackSequencing                Optional[int64]
	RWaveTimesMS                      []float64
	HeartRate                         Optional[float64]
	TriggerTimeMS, NominalIntervalMS  Optional[float64]
	LowRRMS, HighRRMS                 Optional[float64]
	EventElapsedMS                    []float64
	EventNames                        []string
	EventTimers                       Optional[int64]
	Synchronized                      string
	TimezoneOffset                    string
}
