package stats

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// Observation is one value of a series in the order of time. Values of different
// blocks may lie at different levels: only differences within a block count.
type Observation struct {
	Block int
	// At is the time, in any unit. Observations of one time are not parted.
	At, Value float64
}

// Step is the shift of level that parts a series best.
type Step struct {
	// At is the index of the first observation after it.
	At int
	// Shift is the level after less the level before, of all blocks together.
	Shift float64
	// P is the probability that a series without a step parts as well somewhere.
	P float64
	// Residual is the sum of squares that the step leaves unexplained.
	Residual float64
}

// Trend is a steady change of level with time, common to all blocks.
type Trend struct {
	// Slope is per unit of time.
	Slope, P, Residual float64
}

// rest is the share of a sum of squares that counts as nothing: what arithmetic
// leaves of values that a model explains wholly.
const rest = 1e-12

// FindStep tries every place with so many observations at least on both sides and
// returns the best by least squares, y = level of the block + shift of what comes
// after. P is that of Student's t with n − blocks − 1 degrees of freedom, times the
// number of places tried (Bonferroni), which is at least the true one: Hawkins 1977,
// J Am Stat Assoc 72:180, for the largest of such t (from memory). It is false where
// there is no place, or nothing to judge it by.
func FindStep(series []Observation, side int) (Step, bool) {
	blocks, total := describe(series)
	degrees := len(series) - len(blocks) - 1
	if degrees < 1 || !(total > 0) {
		return Step{}, false
	}
	best, gain, tried := Step{}, 0.0, 0
	var cross, weight float64 // Σ w·difference and Σ w over the blocks
	for i, o := range series {
		if i >= side && len(series)-i >= side && o.At > series[i-1].At && weight > 0 {
			tried++
			if g := cross * cross / weight; g > gain {
				gain, best.At, best.Shift = g, i, cross/weight
			}
		}
		b := blocks[o.Block]
		cross, weight = cross-b.cross(), weight-b.weight()
		b.before, b.sumBefore = b.before+1, b.sumBefore+o.Value-b.mean()
		cross, weight = cross+b.cross(), weight+b.weight()
	}
	if gain == 0 {
		return Step{}, false
	}
	best.Residual = math.Max(total-gain, 0)
	best.P = math.Min(1, float64(tried)*tail(gain, best.Residual, total, degrees))
	return best, true
}

// FindTrend fits a line with one slope to all blocks, each with a level of its own.
// P is that of Student's t with n − blocks − 1 degrees of freedom. It is false where
// no block spans time, or there is nothing to judge by.
func FindTrend(series []Observation) (Trend, bool) {
	blocks, total := describe(series)
	degrees := len(series) - len(blocks) - 1
	var stt, sty float64
	for _, o := range series {
		b := blocks[o.Block]
		dt := o.At - b.sumAt/float64(b.n)
		stt += dt * dt
		sty += dt * (o.Value - b.mean())
	}
	if degrees < 1 || !(total > 0) || !(stt > 0) {
		return Trend{}, false
	}
	gain := sty * sty / stt
	trend := Trend{Slope: sty / stt, Residual: math.Max(total-gain, 0)}
	trend.P = tail(gain, trend.Residual, total, degrees)
	return trend, true
}

// tail is the two-sided probability of a t² of gain over residual per degree.
func tail(gain, residual, total float64, degrees int) float64 {
	if residual <= rest*total {
		return 0
	}
	nu := float64(degrees)
	t := math.Sqrt(gain / (residual / nu))
	return 2 * distuv.StudentsT{Mu: 0, Sigma: 1, Nu: nu}.CDF(-t)
}

// block is one block while a series is parted: values before the place, about the
// mean of the block.
type block struct {
	n, before             int
	sum, sumAt, sumBefore float64
}

func (b *block) mean() float64 { return b.sum / float64(b.n) }

// weight and cross are w = p·q/n and w times (mean after − mean before). About the
// mean of the block the sum after is less that before, so cross is −sumBefore.
func (b *block) weight() float64 {
	return float64(b.before) * float64(b.n-b.before) / float64(b.n)
}

func (b *block) cross() float64 {
	if b.before == 0 || b.before == b.n {
		return 0
	}
	return -b.sumBefore
}

// describe sums up the blocks, and the squares within them.
func describe(series []Observation) (map[int]*block, float64) {
	blocks := map[int]*block{}
	for _, o := range series {
		b := blocks[o.Block]
		if b == nil {
			b = &block{}
			blocks[o.Block] = b
		}
		b.n, b.sum, b.sumAt = b.n+1, b.sum+o.Value, b.sumAt+o.At
	}
	total := 0.0
	for _, o := range series {
		d := o.Value - blocks[o.Block].mean()
		total += d * d
	}
	return blocks, total
}
