package ruler

import (
	"math"
	"slices"
)

// larger says how the larger marks of a ruler stand: every so many ticks, 0 where all
// are alike, and every so many of the larger ones again.
type larger struct {
	every, again int
	phase        int
}

// sizes are the ways in which a mark is larger than others, with the least factor and
// the least factor of mass that goes with it.
var sizes = []struct {
	of           func(tick) float64
	factor, mass float64
}{
	{tick.width, largerSize, largerWithMass},
	{tick.height, largerSize, largerWithMass},
	{tick.weight, largerMass, largerMass},
}

// largerOf finds the larger marks.
func largerOf(ticks []tick) larger {
	for _, every := range []int{2, 5, 10, 4} {
		phase, ok := separated(ticks, every)
		if !ok {
			continue
		}
		l := larger{every: every, phase: phase}
		var big []tick
		for _, t := range ticks {
			if mod(t.n, every) == phase {
				big = append(big, tick{t.mark, (t.n - phase) / every})
			}
		}
		for _, again := range []int{2, 5} {
			if _, ok := separated(big, again); ok && len(big) >= 2*again {
				l.again = again
				break
			}
		}
		return l
	}
	return larger{}
}

// separated tells that every so-manieth tick, from a phase on, is larger than all
// others, in one way of being large.
func separated(ticks []tick, every int) (phase int, ok bool) {
	for phase := range every {
		var big, small []tick
		for _, t := range ticks {
			if mod(t.n, every) == phase {
				big = append(big, t)
			} else {
				small = append(small, t)
			}
		}
		if len(big) < 2 || len(small) < 3 {
			continue
		}
		heavier := median(big, tick.weight) / median(small, tick.weight)
		for _, s := range sizes {
			if heavier >= s.mass && least(big, s.of) >= s.factor*most(small, s.of) {
				return phase, true
			}
		}
	}
	return 0, false
}

func least(ticks []tick, of func(tick) float64) float64 {
	v := math.Inf(1)
	for _, t := range ticks {
		v = math.Min(v, of(t))
	}
	return v
}

func most(ticks []tick, of func(tick) float64) float64 {
	v := math.Inf(-1)
	for _, t := range ticks {
		v = math.Max(v, of(t))
	}
	return v
}

func mod(a, n int) int { return ((a % n) + n) % n }

// small are the ticks that are no larger marks.
func (l larger) small(ticks []tick) []tick {
	var small []tick
	for _, t := range ticks {
		if l.every == 0 || mod(t.n, l.every) != l.phase {
			small = append(small, t)
		}
	}
	return small
}

// fading is how many times heavier the small marks of one half are than those of the
// other.
func fading(ticks []tick, l larger) float64 {
	small := l.small(ticks)
	upper, lower := median(small[:len(small)/2], tick.weight), median(small[len(small)/2:], tick.weight)
	return math.Max(upper, lower) / math.Max(math.Min(upper, lower), 1)
}

// alikeShare is the share of the small ticks that have the usual size of these, which
// letters and grain do not.
func alikeShare(ticks []tick, l larger) float64 {
	small := l.small(ticks)
	w, h := median(small, tick.width), median(small, tick.height)
	same := 0
	for _, t := range small {
		if math.Abs(t.width()-w) <= alike && math.Abs(t.height()-h) <= alike {
			same++
		}
	}
	return float64(same) / float64(len(small))
}

func (t tick) width() float64  { return t.mark.width() }
func (t tick) height() float64 { return t.mark.height() }
func (t tick) weight() float64 { return t.mass }

func median(ticks []tick, of func(tick) float64) float64 {
	values := make([]float64, len(ticks))
	for i, t := range ticks {
		values[i] = of(t)
	}
	slices.Sort(values)
	return values[len(values)/2]
}
