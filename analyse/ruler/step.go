package ruler

import (
	"fmt"
	"math"
	"strings"
)

// steps are the sizes in mm that a step of a ruler may have by its larger marks, the
// usual one first, and the least share of the stated depth that it then covers: less
// than the next size would be away, so that one size at most fits.
type steps struct {
	words string
	mm    []float64
	share float64
	// usual tells that the first is taken where no depth is stated.
	usual bool
}

// stepsOf is common practice: rulers mark centimetres and fives or tens of them, half
// centimetres and centimetres, or millimetres with fives and tens. Every fifth mark
// larger stood for 1 cm and 5 cm in all five real pictures of five makers that have it
// (analyse/ruler/real_test.go); so that is taken without a depth.
func stepsOf(l larger) steps {
	switch {
	case l.every == 5 && l.again == 2:
		return steps{"every fifth mark larger and every tenth again", []float64{1, 10}, 0.2, false}
	case l.every == 5:
		return steps{"every fifth mark larger", []float64{10, 2, 1}, 0.3, true}
	case l.every == 10:
		return steps{"every tenth mark larger", []float64{1, 5, 10}, 0.6, false}
	case l.every == 2 && l.again == 5:
		return steps{"every second mark larger and every tenth again", []float64{5}, 0.2, true}
	case l.every == 2:
		return steps{"every second mark larger", []float64{5, 10}, 0.6, false}
	case l.every > 0:
		return steps{fmt.Sprintf("every %dth mark larger", l.every), []float64{2.5, 5}, 0.6, false}
	}
	return steps{"all marks alike", []float64{5, 10, 20, 50}, 0, false}
}

// beyond is how much deeper than stated a picture may be drawn (as
// scan-depth-disagrees has it, halved).
const beyond = 1.1

// fits tells that a ruler of n steps of mm goes with a depth. Where all marks are alike
// nothing but the depth tells their size, and the last mark must be the last that the
// depth has room for.
func (s steps) fits(n int, mm, depth float64) bool {
	span := float64(n) * mm
	if s.share == 0 {
		return span <= depth*(1+maxResidualShare) && depth-span <= mm
	}
	return span >= s.share*depth && span <= beyond*depth
}

// size is the step in mm with the reason, 0 with the reason where it is not certain.
func (s steps) size(n int, p *Picture, pitch float64) (mm float64, why string) {
	var fitting []float64
	for _, mm := range s.mm {
		switch {
		case p.DepthMM > 0 && s.fits(n, mm, p.DepthMM), p.DepthMM <= 0 && s.share > 0 && plausible(float64(n)*mm):
			fitting = append(fitting, mm)
		}
	}
	switch {
	case p.DepthMM <= 0 && s.usual && len(fitting) > 0 && fitting[0] == s.mm[0] && (len(fitting) == 1 || len(p.ScalesPerCM) > 0):
		mm, why = s.mm[0], s.words
	case len(fitting) != 1:
		return 0, s.words + s.doubt(len(fitting), p)
	case p.DepthMM > 0:
		mm, why = fitting[0], fmt.Sprintf("%s, %d steps in a stated depth of %.4g mm", s.words, n, p.DepthMM)
	default:
		mm, why = fitting[0], fmt.Sprintf("%s, the only plausible depth of %d steps", s.words, n)
	}
	if other := s.explains(mm, p, pitch); other > 0 {
		return 0, fmt.Sprintf("%s; %.3g mm is the likelier step, but with one of %.3g mm it would agree with the header", s.words, mm, other)
	}
	return mm, why
}

// plausible tells depths that devices show.
func plausible(mm float64) bool { return mm >= shallowest && mm <= deepest }

func (s steps) doubt(fitting int, p *Picture) string {
	switch {
	case p.DepthMM <= 0 && fitting > 1, p.DepthMM <= 0 && s.share == 0:
		return ", and no depth is stated that would tell what a step is"
	case fitting > 1:
		return ", and steps of more than one size go with the stated depth"
	case p.DepthMM > 0:
		return fmt.Sprintf(", and no usual step goes with the stated depth of %.4g mm", p.DepthMM)
	}
	return ", and no usual step makes a plausible depth"
}

// explains returns another size of step by which the ruler would agree with a scale of
// the header better than by mm: then which of the two is wrong cannot be told. Where a
// stated depth speaks for mm, the other must agree fully.
func (s steps) explains(mm float64, p *Picture, pitch float64) float64 {
	off := func(mm, scale float64) float64 { return math.Abs(math.Log(pitch * 10 / mm / scale)) }
	for _, scale := range p.ScalesPerCM {
		for _, other := range s.mm {
			if off(other, scale) < off(mm, scale) && off(mm, scale) > sameScale && (p.DepthMM <= 0 || off(other, scale) <= sameScale) {
				return other
			}
		}
	}
	return 0
}

// sameScale is how near two scales must be to be taken for one by explains, as the
// logarithm of their ratio.
const sameScale = 0.03

// Modulo says what the ruler would be worth against a scale of the header by each size
// its steps may have: for the note of a ruler of unknown step.
func (r *Reading) Modulo(scalePerCM float64) string {
	l := larger{every: r.Every}
	var words []string
	for _, mm := range stepsOf(l).mm {
		words = append(words, fmt.Sprintf("%.4g with steps of %.3g mm", r.Pitch*10/mm/scalePerCM, mm))
	}
	return "ruler ÷ header would be " + strings.Join(words, ", ")
}
