package stats

import (
	"math"
	"math/rand/v2"
	"testing"
)

// TestDesignEffect: groups that are met or not as a whole tell as much as one each, and
// groups of which each holds the same as much as single members, but for what so few
// groups tell of it (t with 19 degrees of freedom, 2.093024, of printed tables).
func TestDesignEffect(t *testing.T) {
	var whole, same, some, one, all, none Clusters
	for i := range 20 {
		whole.Add(10*(i%2), 10)
		same.Add(5, 10)
		some.Add(5+2*(i%2*2-1), 10)
		all.Add(10, 10)
	}
	one.Add(3, 10)
	one.Add(0, 0)
	few := math.Pow(2.093024/1.959964, 2)
	near(t, "all or none", whole.Effect(), 10, 0)
	near(t, "all alike", same.Effect(), few, 1e-6)
	// By hand: p = 1/2, Σ(x − p·m)² = 20 · 4; 20/19 · 80 / (1/4 · 200) = 32/19.
	near(t, "3 or 7 of 10", some.Effect(), few*32/19, 1e-6)
	near(t, "one group", one.Effect(), 10, 0)
	near(t, "all met", all.Effect(), 10, 0)
	near(t, "no group", none.Effect(), 1, 0)
}

// TestGroupedCoverage: of studies whose items go together, the interval holds the true
// share about as often as it says or oftener, however few they are and however seldom
// one is cut short; that of single items far less often.
func TestGroupedCoverage(t *testing.T) {
	const trials, items = 2000, 20
	for _, c := range []struct{ studies, oneIn int }{{2, 4}, {3, 4}, {5, 4}, {10, 4}, {60, 4}, {5, 12}, {10, 12}, {60, 12}} {
		rng := rand.New(rand.NewPCG(1, uint64(c.studies*c.oneIn)))
		share := 1 - 0.5/float64(c.oneIn)
		grouped, single := 0, 0
		for range trials {
			var all Clusters
			met := 0
			for range c.studies {
				p, x := 1.0, 0
				if rng.IntN(c.oneIn) == 0 {
					p = 0.5 // a study cut short
				}
				for range items {
					if rng.Float64() < p {
						x++
					}
				}
				met += x
				all.Add(x, items)
			}
			if e, _ := Wilson(met, c.studies*items, all.Effect()); e.Low <= share && share <= e.High {
				grouped++
			}
			if e, _ := Wilson(met, c.studies*items, 1); e.Low <= share && share <= e.High {
				single++
			}
		}
		t.Logf("%d studies, one in %d cut short: of %d intervals %d hold the share, of those of single items %d", c.studies, c.oneIn, trials, grouped, single)
		if grouped < trials*93/100 || single > trials*60/100 {
			t.Errorf("%d studies, one in %d cut short: of %d intervals %d hold the share, of those of single items %d", c.studies, c.oneIn, trials, grouped, single)
		}
	}
}
