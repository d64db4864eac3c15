// Package montecarlo propagates distributions by drawing (JCGM 101:2008, clause 7).
// Tests hold the uncertainties of the program, which come from first derivatives,
// against it; the program itself draws nothing.
package montecarlo

import (
	"math"
	"math/rand/v2"
	"slices"

	"leadline/ingest"
)

// Drawn are the values of a model over all trials.
type Drawn struct {
	// Mean and StdU are their mean and their standard deviation by n − 1 (JCGM 101, 7.6).
	Mean, StdU float64
	// Refused counts the trials in which the model had no value; they are left out.
	Refused int
	values  []float64
}

// Draw evaluates a model as often as asked. The model draws its own inputs; it is
// false where it has no value for them.
func Draw(trials int, model func() (float64, bool)) Drawn {
	var d Drawn
	for range trials {
		if v, ok := model(); ok {
			d.values = append(d.values, v)
		}
	}
	n := float64(len(d.values))
	d.Refused = trials - len(d.values)
	if n == 0 {
		return Drawn{Refused: trials, Mean: math.NaN(), StdU: math.NaN()}
	}
	// About the first value, which keeps digits where the spread is small.
	sum, squares := 0.0, 0.0
	for _, v := range d.values {
		off := v - d.values[0]
		sum, squares = sum+off, squares+off*off
	}
	d.Mean = d.values[0] + sum/n
	d.StdU = math.Sqrt((squares - sum*sum/n) / (n - 1))
	slices.Sort(d.values)
	return d
}

// Interval is the probabilistically symmetric coverage interval for a probability
// between 0 and 1 (JCGM 101, 7.7).
func (d Drawn) Interval(probability float64) (low, high float64) {
	n := len(d.values)
	inside := int(probability*float64(n) + 0.5)
	from := (n - inside) / 2
	return d.values[from], d.values[min(from+inside, n-1)]
}

// Rectangular draws from a rectangular distribution with this standard deviation.
func Rectangular(rng *rand.Rand, centre, u float64) float64 {
	return centre + (2*rng.Float64()-1)*math.Sqrt(3)*u
}

// Hand places the points of calipers: every point of one trial that has the same
// coordinates is placed once, with rectangular errors of both.
type Hand struct {
	RNG *rand.Rand
	// StdU is the standard uncertainty of one coordinate, in pixels.
	StdU   float64
	placed map[ingest.Point]ingest.Point
}

// Next begins a trial.
func (h *Hand) Next() { clear(h.placed) }

// Place fills out with the points as they were placed in this trial.
func (h *Hand) Place(out, points []ingest.Point) {
	if h.placed == nil {
		h.placed = map[ingest.Point]ingest.Point{}
	}
	for i, p := range points {
		q, met := h.placed[p]
		if !met {
			q = ingest.Point{X: Rectangular(h.RNG, p.X, h.StdU), Y: Rectangular(h.RNG, p.Y, h.StdU)}
			h.placed[p] = q
		}
		out[i] = q
	}
}
