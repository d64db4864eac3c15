package stats

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// Limits are the centre line and the three-sigma limits of a control chart.
type Limits struct{ Centre, Lower, Upper float64 }

// Beyond tells that a value lies outside the limits; on a limit is inside.
func (l Limits) Beyond(value float64) bool { return value < l.Lower || value > l.Upper }

// Factors for moving ranges of two values, NIST/SEMATECH e-Handbook 6.3.2.2. The
// rounded 2.66 that is in use for 3/1.128 differs from it in the fourth digit.
const (
	// sigmaOfRange is d₂: the mean moving range of a normal process is 1.128 σ.
	sigmaOfRange = 1.128
	// upperOfRange is D₄: three sigma above the mean moving range.
	upperOfRange = 3.267
)

// Count is one point of a chart of shares. Gap and Baseline are those of Individual.
type Count struct {
	Met, Of       int
	Gap, Baseline bool
}

// Share is the centre of a p-chart: all that are met over all that were counted, of
// its baseline. ok is false where nothing was counted.
func Share(counts []Count) (p float64, ok bool) {
	met, all := 0, 0
	for _, c := range counts {
		if c.Baseline {
			met, all = met+c.Met, all+c.Of
		}
	}
	if all == 0 {
		return 0, false
	}
	return float64(met) / float64(all), true
}

// ShareLimits are the limits of one point of a p-chart: they follow its
// denominator n, and stay within what a share can be. The factor f is that of
// ShareSpread for what is counted in groups that go together, else 1.
//
//	p ± 3·f·√(p(1−p)/n)
//
// ok is false for n < 1. The formula takes the binomial distribution for normal,
// which is poor for small n. NIST/SEMATECH e-Handbook 6.3.3.2.
func ShareLimits(p float64, n int, factor float64) (l Limits, ok bool) {
	if n < 1 {
		return Limits{}, false
	}
	half := 3 * factor * math.Sqrt(p*(1-p)/float64(n))
	return Limits{p, math.Max(0, p-half), math.Min(1, p+half)}, true
}

// leastExpected is how many a normal approximation of a binomial count wants to be
// expected of either kind (common rule of thumb, from memory).
const leastExpected = 5

// beyondThreeSigma is the probability above three standard deviations of a normal
// distribution.
const beyondThreeSigma = 0.00134990

// ShareSignal tells that a point of a p-chart lies beyond its limits. Where less than
// five are expected of either kind, the limits are poor, and the binomial
// distribution must give as few or as many no more probability than three sigma have.
func ShareSignal(l Limits, met, n int) bool {
	if n < 1 || !l.Beyond(float64(met)/float64(n)) {
		return false
	}
	p := l.Centre
	if float64(n)*math.Min(p, 1-p) >= leastExpected {
		return true
	}
	b := distuv.Binomial{N: float64(n), P: p}
	return math.Min(b.CDF(float64(met)), 1-b.CDF(float64(met-1))) <= beyondThreeSigma
}

// ShareSpread is how many times wider than a binomial count the shares of the
// baseline scatter, 1 at least: by the mean moving range of (pᵢ − p)/√(p(1−p)/nᵢ),
// over 1.128. It is above 1 where what is counted comes in groups that go together.
// ok is false without a moving range and where p is 0 or 1. Laney 2002, Quality Engineering 14:531–537
// (from memory; that it is never taken below 1 is ours).
func ShareSpread(p float64, counts []Count) (factor float64, ok bool) {
	if p <= 0 || p >= 1 {
		return 1, false
	}
	z := make([]Individual, len(counts))
	for i, c := range counts {
		z[i] = Individual{Gap: c.Gap || c.Of == 0 || i > 0 && counts[i-1].Of == 0, Baseline: c.Baseline && c.Of > 0}
		if c.Of > 0 {
			z[i].Value = (float64(c.Met)/float64(c.Of) - p) / math.Sqrt(p*(1-p)/float64(c.Of))
		}
	}
	_, ranges, ok := Individuals(z)
	if !ok {
		return 1, false
	}
	return math.Max(1, ranges.Centre/sigmaOfRange), true
}

// Individual is one value of a series in the order of time.
type Individual struct {
	Value float64
	// Gap tells that something is missing between the value before and this one:
	// there is no moving range over it, and a run ends at it.
	Gap bool
	// Baseline tells that the limits are made from this value, among others.
	Baseline bool
}

// MovingRange is the distance of a value of the series from the one before; ok is
// false for the first one and over a gap.
func MovingRange(series []Individual, at int) (r float64, ok bool) {
	if at < 1 || series[at].Gap {
		return 0, false
	}
	return math.Abs(series[at].Value - series[at-1].Value), true
}

// Individuals are the limits of an individuals chart and of its moving-range chart,
// made from the values of the baseline and the moving ranges between two of them.
// With the mean x̄ and the mean moving range MR̄
//
//	values  x̄ ± 3·MR̄/1.128   (x̄ ± 2.66·MR̄)
//	ranges  MR̄, 0 … 3.267·MR̄
//
// ok is false where the baseline holds no moving range, and where it does not vary.
// NIST/SEMATECH e-Handbook 6.3.2.2.
func Individuals(series []Individual) (values, ranges Limits, ok bool) {
	sum, spread, n, moves := 0.0, 0.0, 0, 0
	for i, x := range series {
		if !x.Baseline {
			continue
		}
		sum, n = sum+x.Value, n+1
		if r, has := MovingRange(series, i); has && series[i-1].Baseline {
			spread, moves = spread+r, moves+1
		}
	}
	if moves == 0 || spread == 0 {
		return Limits{}, Limits{}, false
	}
	centre, mean := sum/float64(n), spread/float64(moves)
	half := 3 * mean / sigmaOfRange
	return Limits{centre, centre - half, centre + half}, Limits{mean, 0, upperOfRange * mean}, true
}
