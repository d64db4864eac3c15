package stats

import "math"

// Clusters sums counts that come in groups whose members go together, as the items of
// one study do.
type Clusters struct {
	n                            int
	met, of, metMet, metOf, ofOf float64
}

// Add adds a group of so many, of which some are met; one of none is no group.
func (c *Clusters) Add(met, of int) {
	if of < 1 {
		return
	}
	x, m := float64(met), float64(of)
	c.n++
	c.met, c.of = c.met+x, c.of+m
	c.metMet, c.metOf, c.ofOf = c.metMet+x*x, c.metOf+x*m, c.ofOf+m*m
}

// Effect is the design effect: how many members in groups tell as much as one alone,
// 1 at least. With the share p = Σxᵢ/Σmᵢ of k groups
//
//	k/(k−1) · Σ(xᵢ − p·mᵢ)² / (p·(1−p)·Σmᵢ)
//
// It is 1 for fewer than two groups and for a share of 0 or 1, which say nothing of
// it. Rao and Scott 1992, Biometrics 48:577–585 (from memory; that it is never taken
// below 1 is ours).
func (c *Clusters) Effect() float64 {
	if c.n < 2 || c.met == 0 || c.met == c.of {
		return 1
	}
	p, k := c.met/c.of, float64(c.n)
	squares := c.metMet - 2*p*c.metOf + p*p*c.ofOf
	return math.Max(1, k/(k-1)*squares/(p*(1-p)*c.of))
}
