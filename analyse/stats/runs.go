package stats

import "math"

// LeastUseful is the number of points off the median below which a run chart is not
// judged. Anhøj and Olesen 2014.
const LeastUseful = 10

// leastSide is the share of the points off the median that must lie on either side of
// it. The limits take both sides for equally likely. Shares of few are often equal to
// their median, and near 0 or 1 all others then lie on one side, so that chance alone
// breaks the rules: 1.9 times in 52 weeks of 10 of which 97 % meet it, and at most 0.1
// times with this bound (by simulation; the bound is ours).
const leastSide = 1.0 / 3

// Runs is a series held against its median. Points on the median count for nothing.
type Runs struct {
	Median float64
	// Useful counts the points off the median.
	Useful int
	// Longest counts the points of the longest run on one side, the first one where
	// several are as long; LongestEnd is the index of its last point.
	Longest, LongestEnd int
	Crossings           int
	// Last is the index of the last point off the median.
	Last int
	// LongestLimit and CrossingsLimit are the longest run and the fewest crossings
	// that chance gives.
	LongestLimit, CrossingsLimit int
}

// RunsOf counts runs and crossings; ok is false below LeastUseful points off the
// median, and where less than a third of them lie on one side. For n of them
//
//	longest run    ≤ round(log₂ n + 3)
//	crossings      ≥ the 5 % quantile of the binomial distribution of n − 1 and ½
//
// Anhøj and Olesen 2014, PLoS ONE 9:e113825.
func RunsOf(values []float64) (r Runs, ok bool) {
	if len(values) == 0 {
		return Runs{}, false
	}
	r.Median = Median(values)
	length, above, higher := 0, false, 0
	for i, v := range values {
		if v == r.Median {
			continue
		}
		is := v > r.Median
		if is {
			higher++
		}
		switch {
		case r.Useful == 0:
			length, above = 1, is
		case is == above:
			length++
		default:
			length, above, r.Crossings = 1, is, r.Crossings+1
		}
		r.Useful, r.Last = r.Useful+1, i
		if length > r.Longest {
			r.Longest, r.LongestEnd = length, i
		}
	}
	if lesser := min(higher, r.Useful-higher); r.Useful < LeastUseful || float64(lesser) < leastSide*float64(r.Useful) {
		return Runs{}, false
	}
	r.LongestLimit = int(math.Round(math.Log2(float64(r.Useful)) + 3))
	r.CrossingsLimit = fewest(r.Useful - 1)
	return r, true
}

// Signals names, for the index of a point, the rules that the series breaks there.
func (r Runs) Signals(at int) []Rule {
	var broken []Rule
	if at == r.LongestEnd && r.Longest > r.LongestLimit {
		broken = append(broken, LongRun)
	}
	if at == r.Last && r.Crossings < r.CrossingsLimit {
		broken = append(broken, FewCrossings)
	}
	return broken
}

// fewest is the 5 % quantile of the binomial distribution of n trials and ½: the
// smallest count that is not exceeded with a probability of at least 5 %.
func fewest(n int) int {
	const share = 0.05
	// In logarithms: 2⁻ⁿ itself is 0 above 1074 trials.
	whole, _ := math.Lgamma(float64(n + 1))
	below := 0.0
	for k := 0; k < n; k++ {
		chosen, _ := math.Lgamma(float64(k + 1))
		rest, _ := math.Lgamma(float64(n - k + 1))
		below += math.Exp(whole - chosen - rest - float64(n)*math.Ln2)
		if below >= share {
			return k
		}
	}
	return n
}
