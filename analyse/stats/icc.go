package stats

import "math"

// MeanSquares are those of a two-way table of targets and judges without repeats.
type MeanSquares struct {
	Targets, Judges int
	// Between targets, within targets, between judges, and what is left.
	BMS, WMS, JMS, EMS float64
}

// Squares takes the ratings of n ≥ 2 targets by the same k ≥ 2 judges each; ok is
// false otherwise.
func Squares(ratings [][]float64) (m MeanSquares, ok bool) {
	n := len(ratings)
	if n < 2 || len(ratings[0]) < 2 {
		return MeanSquares{}, false
	}
	k := len(ratings[0])
	all, judges := 0.0, make([]float64, k)
	for _, row := range ratings {
		if len(row) != k {
			return MeanSquares{}, false
		}
		for j, v := range row {
			judges[j] += v / float64(n)
			all += v / float64(n*k)
		}
	}
	var between, within, judged float64
	for _, row := range ratings {
		mean, sd := meanSD(row)
		between += float64(k) * (mean - all) * (mean - all)
		within += float64(k-1) * sd * sd
	}
	for _, mean := range judges {
		judged += float64(n) * (mean - all) * (mean - all)
	}
	free := func(d int) float64 { return float64(d) }
	return MeanSquares{
		Targets: n, Judges: k,
		BMS: between / free(n-1), WMS: within / free(n*(k-1)), JMS: judged / free(k-1),
		EMS: math.Max(0, within-judged) / free((n-1)*(k-1)),
	}, true
}

// judgesAgree tells that what is left between judges is the rounding of doubles.
func (m MeanSquares) judgesAgree() bool { return m.EMS <= leastScatter*leastScatter*m.BMS }

// ICC21 is the intraclass correlation ICC(2,1) of Shrout and Fleiss 1979, Psychol
// Bull 86:420–428: judges are a random sample, and absolute agreement counts.
//
//	(BMS − EMS) / (BMS + (k−1)·EMS + k·(JMS − EMS)/n)
//
// The interval is theirs too (by Satterthwaite's degrees of freedom; from memory).
// ok is false where nothing varies, and where judges agree to the last digit, which
// leaves no error to tell the interval by.
func (m MeanSquares) ICC21() (e Estimate, ok bool) {
	n, k := float64(m.Targets), float64(m.Judges)
	denominator := m.BMS + (k-1)*m.EMS + k*(m.JMS-m.EMS)/n
	if denominator <= 0 || m.judgesAgree() {
		return Estimate{}, false
	}
	r := (m.BMS - m.EMS) / denominator
	fj := m.JMS / m.EMS
	a := k*r*fj + n*(1+(k-1)*r) - k*r
	v := (k - 1) * (n - 1) * a * a / ((n-1)*k*k*r*r*fj*fj + math.Pow(n*(1+(k-1)*r)-k*r, 2))
	low, high := f(n-1, v), f(v, n-1)
	spread := k*m.JMS + (k*n-k-n)*m.EMS
	return Estimate{
		Value: r,
		Low:   n * (m.BMS - low*m.EMS) / (low*spread + n*m.BMS),
		High:  n * (high*m.BMS - m.EMS) / (spread + n*high*m.BMS),
	}, true
}

// ICC31 is ICC(3,1): these judges and no others, and a constant difference between
// them does not count.
//
//	(BMS − EMS) / (BMS + (k−1)·EMS)
//
// Interval and refusal as for ICC21.
func (m MeanSquares) ICC31() (e Estimate, ok bool) {
	n, k := float64(m.Targets), float64(m.Judges)
	if m.judgesAgree() {
		return Estimate{}, false
	}
	observed, d1, d2 := m.BMS/m.EMS, n-1, (n-1)*(k-1)
	of := func(ratio float64) float64 { return (ratio - 1) / (ratio + k - 1) }
	return Estimate{of(observed), of(observed / f(d1, d2)), of(observed * f(d2, d1))}, true
}
