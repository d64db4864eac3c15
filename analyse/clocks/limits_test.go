package clocks

import (
	"testing"

	"leadline/analyse"
)

// daily are differences of a study a day, which grow by so many seconds each.
func daily(n int, grow float64) series {
	var all series
	for i := range n {
		all.days, all.seconds = append(all.days, float64(i)), append(all.seconds, grow*float64(i))
		all.studies = append(all.studies, &analyse.Study{})
	}
	return all
}

// TestDriftLimits: a clock drifts from above 1 s a day on, told of over 14 days or more.
func TestDriftLimits(t *testing.T) {
	for _, c := range []struct {
		studies int
		grow    float64
		want    analyse.ClockVerdict
	}{{41, 1.1, analyse.ClockLook}, {41, 0.9, analyse.ClockSteady}, {41, -1.1, analyse.ClockLook}, {15, 9, analyse.ClockLook}, {14, 9, analyse.ClockUnknown}} {
		if got := drift(source{}, daily(c.studies, c.grow), nil); got.Verdict != c.want {
			t.Errorf("%d studies, %v s a day: %s, want %s", c.studies, c.grow, got.Verdict, c.want)
		}
	}
}

// TestStepsBeside: a jump needs three studies on each side to be told, and is told at its
// place; nearer to an end the clock is not called steady either.
func TestStepsBeside(t *testing.T) {
	for before, want := range map[int]analyse.ClockVerdict{
		0: analyse.ClockSteady, 1: analyse.ClockUnknown, 2: analyse.ClockUnknown, 3: analyse.ClockLook,
		4: analyse.ClockLook, 5: analyse.ClockLook, 6: analyse.ClockUnknown, 7: analyse.ClockUnknown,
	} {
		all := daily(8, 0)
		for i := before; i < 8; i++ {
			all.seconds[i] = 3600
		}
		steps := stepsOf(all)
		if told := want == analyse.ClockLook; told != (len(steps) == 1) || told && (steps[0].from != all.studies[before-1] || steps[0].to != all.studies[before]) {
			t.Errorf("%d studies before: %d jumps, or at another place", before, len(steps))
		}
		if got := hourStep(source{}, all, steps); got.Verdict != want {
			t.Errorf("%d studies before: %s, want %s", before, got.Verdict, want)
		}
	}
	for n, want := range map[int]analyse.ClockVerdict{5: analyse.ClockUnknown, 6: analyse.ClockSteady} {
		if got := hourStep(source{}, daily(n, 0), nil); got.Verdict != want {
			t.Errorf("%d studies: %s, want %s", n, got.Verdict, want)
		}
	}
}

// TestPeersApart: a device is told apart from the others beyond eight minutes.
func TestPeersApart(t *testing.T) {
	for own, want := range map[float64]bool{479: false, 481: true, -479: false, -481: true} {
		u := &unit{}
		_, got := offPeers(u, []peer{{&unit{}, 0, 2, 100}, {u, own, 2, 100}, {&unit{}, 0, 2, 100}})
		if got != want {
			t.Errorf("%v s apart: %t, want %t", own, got, want)
		}
	}
}
