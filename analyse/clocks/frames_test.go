package clocks

import (
	"math"
	"slices"
	"testing"

	"leadline/ingest"
)

func TestFrameTime(t *testing.T) {
	none := ingest.Optional[float64]{}
	for _, c := range []struct {
		name           string
		frames         int
		frameMS        float64
		vector         []float64
		duration, rate ingest.Optional[float64]
		kind           rounded
		implied        float64
	}{
		{"decimals", 64, 33.333, nil, ingest.Some(2.133), ingest.Some(30.0), exact, 33.333},
		{"length says otherwise", 34, 33, nil, ingest.Some(1.133), none, wasRounded, 33.3235},
		{"length of the intervals", 34, 33, nil, ingest.Some(1.1), none, wasRounded, 1100.0 / 33},
		{"length confirms", 34, 33, nil, ingest.Some(1.122), none, exact, 33},
		{"intervals confirm", 34, 33, nil, ingest.Some(1.089), none, exact, 33},
		{"length of another clip", 34, 33, nil, ingest.Some(2.5), none, open, 0},
		// I_000001 of the shared real files: 30 ms and 33 frames a second.
		{"cine rate is whole itself", 34, 30, nil, none, ingest.Some(33.0), open, 0},
		{"cine rate confirms", 20, 40, nil, none, ingest.Some(25.0), exact, 40},
		{"nothing to hold it against", 8, 100, nil, none, none, open, 0},
		{"vector of thirds", 4, 33, []float64{0, 33, 33, 34}, none, none, open, 0}, // 33.333 to a third
		{"long vector of thirds", 31, 33, append([]float64{0}, slices.Repeat([]float64{33, 33, 34}, 10)...), none, none, wasRounded, 100.0 / 3},
		{"length of few frames", 4, 33, nil, ingest.Some(0.132), none, open, 0},
		{"vector of parts", 4, 33, []float64{0, 33.3, 33.4, 33.3}, none, none, wasRounded, 100.0 / 3},
		{"vector of the same", 4, 33, []float64{0, 33, 33, 33}, none, none, open, 0},
		{"no time", 4, 0, nil, none, none, notAsked, 0},
	} {
		img := &ingest.Image{Frames: c.frames, Timing: ingest.Timing{FrameTimeMS: ingest.Some(c.frameMS), FrameTimeVectorMS: c.vector, EffectiveDurationS: c.duration, CineRateHz: c.rate}}
		kind, _, implied := frameTime(img, 0.0005)
		if kind != c.kind || math.Abs(implied-c.implied) > 1e-3 {
			t.Errorf("%s: %d %v, want %d %v", c.name, kind, implied, c.kind, c.implied)
		}
	}
}

// Frames that were left out and repeated show as steps of two and of nothing.
func TestJudge(t *testing.T) {
	long, short, widest := judge([]float64{20, 20, 41, 20, 0, 20, 21})
	if long != 1 || short != 1 || math.Abs(widest-1.05) > 1e-12 {
		t.Errorf("%d long, %d short, %v", long, short, widest)
	}
	if long, short, widest = judge([]float64{20, 20.5, 19.8, 20}); long+short != 0 || math.Abs(widest-0.025) > 1e-12 {
		t.Errorf("even: %d, %d, %v", long, short, widest)
	}
}
