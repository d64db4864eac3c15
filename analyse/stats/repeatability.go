package stats

import "math"

// Repeatability is what repeats of the same thing say of a method.
type Repeatability struct {
	// Groups are the things that were measured again, N all their values.
	Groups, N int
	// WithinSD is the within-subject standard deviation. Coefficient is 1.96·√2
	// times it: two measurements of one thing differ by less in 95 % of pairs.
	WithinSD, Coefficient Estimate
	// CV is the within-subject coefficient of variation, a fraction; false where a
	// group's mean is not above 0, for then it has no meaning.
	CV    float64
	HasCV bool
}

// Repeats takes groups of repeats; groups of fewer than two count for nothing, and
// ok is false where none is left. With s_i, m_i and n_i of each group
//
//	s_w² = Σ (n_i−1)·s_i² / Σ (n_i−1)
//	CV²  = Σ (n_i−1)·(s_i/m_i)² / Σ (n_i−1)
//
// Where all repeats are equal no estimate has an interval. Bland and Altman 1996, BMJ 312:1654 and 313:106 (from memory).
func Repeats(groups [][]float64) (r Repeatability, ok bool) {
	squares, relative, degrees := 0.0, 0.0, 0.0
	r.HasCV = true
	for _, g := range groups {
		if len(g) < 2 {
			continue
		}
		mean, sd := meanSD(g)
		free := float64(len(g) - 1)
		sd = scatter(sd, largest(g))
		squares += free * sd * sd
		degrees += free
		if mean > 0 {
			relative += free * sd * sd / (mean * mean)
		} else {
			r.HasCV = false
		}
		r.Groups, r.N = r.Groups+1, r.N+len(g)
	}
	if r.Groups == 0 {
		return Repeatability{}, false
	}
	k := z * math.Sqrt2
	r.WithinSD = ofSD(math.Sqrt(squares/degrees), degrees)
	r.Coefficient = Estimate{k * r.WithinSD.Value, k * r.WithinSD.Low, k * r.WithinSD.High}
	if r.HasCV {
		r.CV = math.Sqrt(relative / degrees)
	}
	return r, true
}
