package rebuild

import (
	"math"
	"strings"
	"testing"

	"leadline/analyse"
	"leadline/ingest"
	"leadline/ingest/dcm"
)

var (
	toVector = []dcm.Tag{dcm.FrameTimeVector}
	toTime   = []dcm.Tag{dcm.FrameTime}
)

// Frames 1 to 5 in every case.
var clips = []struct {
	name           string
	t              ingest.Timing
	source         string
	rate, duration float64
	// interval is from frame 2 to 4, u its standard uncertainty.
	interval, u float64
	note        string
}{
	// Steps 30 + 50 ms between 2 and 4; the mean of 20, 30, 50, 20 is 30 ms: 5·30 ms.
	// Frame 2 lasts 30, frame 4 lasts 20 ms: √((30² + 20²)/12).
	{"vector", ingest.Timing{IncrementPointer: toVector, FrameTimeVectorMS: []float64{0, 20, 30, 50, 20}}, "Frame Time Vector", 1 / 0.03, 0.15, 0.08, math.Sqrt(1300.0/12) / 1000, ""},
	{"first element not 0", ingest.Timing{IncrementPointer: toVector, FrameTimeVectorMS: []float64{20, 20, 20, 20, 20}}, "Frame Time Vector", 50, 0.1, 0.04, 0.02 / math.Sqrt(6), "first element"},
	{"frame time", ingest.Timing{IncrementPointer: toTime, FrameTimeMS: ingest.Some(20.0)}, "Frame Time", 50, 0.1, 0.04, 0.02 / math.Sqrt(6), ""},
	{"pointer to the time, vector there", ingest.Timing{IncrementPointer: toTime, FrameTimeMS: ingest.Some(20.0), FrameTimeVectorMS: []float64{0, 9, 9, 9, 9}}, "Frame Time", 50, 0.1, 0.04, 0.02 / math.Sqrt(6), ""},
	{"vector too short", ingest.Timing{IncrementPointer: toVector, FrameTimeVectorMS: []float64{0, 20}, FrameTimeMS: ingest.Some(20.0)}, "Frame Time", 50, 0.1, 0.04, 0.02 / math.Sqrt(6), "2 elements for 5 frames"},
	{"vector running back", ingest.Timing{IncrementPointer: toVector, FrameTimeVectorMS: []float64{0, 20, -20, 20, 20}, CineRateHz: ingest.Some(50.0)}, "Cine Rate", 50, 0.1, 0.04, 0, "negative"},
	{"no pointer", ingest.Timing{FrameTimeMS: ingest.Some(20.0)}, "Frame Time", 50, 0.1, 0.04, 0.02 / math.Sqrt(6), "does not say"},
	// Rounding of the rate: 0.04·(0.5/√3)/25 beside T/√6 of 40 ms… at 25 Hz 2 steps are 80 ms.
	{"cine rate", ingest.Timing{CineRateHz: ingest.Some(25.0)}, "Cine Rate", 25, 0.2, 0.08, math.Hypot(0.04/math.Sqrt(6), 0.08*0.5/math.Sqrt(3)/25), "whole number"},
	{"frame time 0", ingest.Timing{IncrementPointer: toTime, FrameTimeMS: ingest.Some(0.0), CineRateHz: ingest.Some(25.0)}, "Cine Rate", 25, 0.2, 0.08, 0, ""},
	{"effective duration contradicts", ingest.Timing{IncrementPointer: toTime, FrameTimeMS: ingest.Some(20.0), EffectiveDurationS: ingest.Some(3.0)}, "Frame Time", 50, 0.1, 0.04, 0, "Effective Duration"},
	{"not for timing", ingest.Timing{ActualFrameDurationMS: ingest.Some(20.0), RecommendedHz: ingest.Some(50.0)}, "", 0, 0, 0, 0, ""},
	{"not a number", ingest.Timing{IncrementPointer: toTime, FrameTimeMS: ingest.Some(math.NaN()), CineRateHz: ingest.Some(math.Inf(1))}, "", 0, 0, 0, 0, ""},
	{"so small that a rate overflows", ingest.Timing{IncrementPointer: toTime, FrameTimeMS: ingest.Some(5e-324)}, "", 0, 0, 0, 0, ""},
}

func TestClipTiming(t *testing.T) {
	for _, c := range clips {
		rate, duration, source, notes := ClipTiming(&ingest.Image{Frames: 5, Timing: c.t})
		if source != c.source || rate.Set != (c.source != "") || math.Abs(rate.Value-c.rate) > 1e-9 || math.Abs(duration.Value-c.duration) > 1e-12 {
			t.Errorf("%s: %v Hz, %v s from %q", c.name, rate, duration, source)
		}
		if !strings.Contains(strings.Join(notes, "; "), c.note) {
			t.Errorf("%s: notes %q lack %q", c.name, notes, c.note)
		}
	}
	if _, _, source, _ := ClipTiming(&ingest.Image{Frames: 1, Timing: clips[2].t}); source != "" {
		t.Error("a still has no frame rate")
	}
}

func TestInterval(t *testing.T) {
	for _, c := range clips {
		if c.source == "" {
			continue
		}
		s := sample()
		img := picture("timed")
		img.Image.Frames, img.Image.Timing = 5, c.t
		s.Images = append(s.Images, img)
		r := ingest.CaliperRow{SOPUID: "timed", Geometry: ingest.GeometryFrames, Frames: []int{4, 2}, Unit: "s", ValueText: "0.1", Value: ingest.Some(0.1)}
		m := Measurements(s, []ingest.CaliperRow{r}, nil)[0]
		if m.Rebuilt == nil || math.Abs(m.Rebuilt.Value-c.interval) > 1e-12 || c.u > 0 && math.Abs(m.Rebuilt.StdU-c.u) > 1e-12 {
			t.Errorf("%s: %+v, want %v, u %v", c.name, m.Rebuilt, c.interval, c.u)
			continue
		}
		if m.Calibration != analyse.CalibrationTiming || m.Quantity != analyse.Duration || !strings.Contains(m.Note, "timed by "+c.source) {
			t.Errorf("%s: %s %s %q", c.name, m.Calibration, m.Quantity, m.Note)
		}
	}
}

// 21 frame intervals of 20 ms are 0.42 s (check-values.md row 14: a rate of 142.9).
func TestIntervalOutcomes(t *testing.T) {
	interval := func(image, unit string, frames ...int) string {
		r := ingest.CaliperRow{SOPUID: image, Geometry: ingest.GeometryFrames, Frames: frames, Unit: unit, ValueText: "420", Value: ingest.Some(420.0)}
		return describe(Measurements(sample(), []ingest.CaliperRow{r}, nil))
	}
	for _, c := range []struct{ got, want string }{
		{interval("clip", "ms", 3, 24), "duration 0.42 s agrees"},
		{interval("clip", "", 3, 24), "duration 0.42 s rebuilt-only unit-does-not-fit"},
		{interval("clip", "mm", 3, 24), "not-rebuilt unit-does-not-fit"},
		{interval("clip", "ms", 3, 3), "duration not-rebuilt caliper-degenerate"},
		{interval("clip", "ms", 3), "duration not-rebuilt caliper-degenerate"},
		{interval("clip", "ms", 3, 41), "duration not-rebuilt caliper-outside-image"},
		{interval("clip", "ms", 0, 9), "duration not-rebuilt caliper-degenerate"},
		{interval("ct", "ms", 1, 2), "duration not-rebuilt caliper-outside-image"},
	} {
		if c.got != c.want {
			t.Errorf("got %s, want %s", c.got, c.want)
		}
	}
}
