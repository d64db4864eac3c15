package stats

import "math"

// score is the two-sided 95 % quantile of the normal distribution in full, as the
// published examples of the score interval take it (z above is rounded).
const score = 1.959963984540054

// Wilson is the share successes/n with Wilson's score interval; ok is false for
// n < 1 and for successes outside 0 … n. With p the share, n divided by the effect of
// Clusters (1 for what is counted singly), and z = 1.959964
//
//	(p + z²/2n ± z·√(p(1−p)/n + z²/4n²)) / (1 + z²/n)
//
// It stays within 0 … 1 and has a width where all or none are met. Newcombe 1998,
// Stat Med 17:857–872, method 3; NIST/SEMATECH e-Handbook 7.2.4.1.
func Wilson(successes, n int, effect float64) (e Estimate, ok bool) {
	if n < 1 || successes < 0 || successes > n {
		return Estimate{}, false
	}
	size := float64(n) / effect
	p, squared := float64(successes)/float64(n), score*score
	centre := p + squared/(2*size)
	half := score * math.Sqrt(p*(1-p)/size+squared/(4*size*size))
	whole := 1 + squared/size
	e = Estimate{p, (centre - half) / whole, (centre + half) / whole}
	// The last bits of the root would leave −1e−17 for 0 and 0.9999… for 1.
	if successes == 0 {
		e.Low = 0
	}
	if successes == n {
		e.High = 1
	}
	return e, true
}

// Difference is the first share less the second, that of another group, with the
// interval made from both score intervals. With p, l and u of the first and q, m and v
// of the second
//
//	low  = p−q − √((p−l)² + (v−q)²)
//	high = p−q + √((u−p)² + (q−m)²)
//
// The groups must be independent: no study is in both. Newcombe 1998, Stat Med
// 17:873–890, method 10.
func Difference(a, b Estimate) Estimate {
	d := a.Value - b.Value
	return Estimate{
		Value: d,
		Low:   d - math.Hypot(a.Value-a.Low, b.High-b.Value),
		High:  d + math.Hypot(a.High-a.Value, b.Value-b.Low),
	}
}
