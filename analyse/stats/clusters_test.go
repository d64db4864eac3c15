package stats

import (
	"math/rand/v2"
	"testing"
)

// TestDesignEffect: groups that are met or not as a whole tell as much as one each, and
// groups of which each holds the same tell no less than single members.
func TestDesignEffect(t *testing.T) {
	var whole, same, one Clusters
	for i := range 20 {
		whole.Add(10*(i%2), 10)
		same.Add(5, 10)
	}
	one.Add(3, 10)
	// By hand: p = 1/2, Σ(x − p·m)² = 20 · 25; 20/19 · 500 / (1/4 · 200) = 200/19.
	near(t, "all or none", whole.Effect(), 200.0/19, 1e-12)
	near(t, "all alike", same.Effect(), 1, 0)
	near(t, "one group", one.Effect(), 1, 0)
}

// TestGroupedCoverage: of studies whose items go together, the interval holds the true
// share about as often as it says, and that of single items far less often.
func TestGroupedCoverage(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	const trials, studies, items, share = 2000, 60, 20, 0.875
	grouped, single := 0, 0
	for range trials {
		var c Clusters
		met := 0
		for range studies {
			p, x := 1.0, 0
			if rng.IntN(4) == 0 {
				p = 0.5 // a study cut short
			}
			for range items {
				if rng.Float64() < p {
					x++
				}
			}
			met += x
			c.Add(x, items)
		}
		if e, _ := WilsonOf(met, studies*items, c.Effect()); e.Low <= share && share <= e.High {
			grouped++
		}
		if e, _ := Wilson(met, studies*items); e.Low <= share && share <= e.High {
			single++
		}
	}
	t.Logf("of %d intervals %d hold the share, of those of single items %d", trials, grouped, single)
	if grouped < trials*93/100 || grouped > trials*97/100 || single > trials*80/100 {
		t.Errorf("of %d intervals %d hold the share, of those of single items %d", trials, grouped, single)
	}
}
