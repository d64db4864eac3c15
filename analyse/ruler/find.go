package ruler

import (
	"fmt"
	"math"
)

// candidate is a run of marks that may be a ruler.
type candidate struct {
	ticks  []tick
	line   line
	larger larger
	x      float64
	// fault is empty, or what a ruler would not do.
	fault string
}

// present is the share of the ticks that are seen.
func (c *candidate) present() float64 { return float64(len(c.ticks)) / float64(c.steps()+1) }

func (c *candidate) steps() int { return c.ticks[len(c.ticks)-1].n }

// Find looks for the ruler of a picture.
func Find(p *Picture) *Reading {
	best, other, crowded := p.best()
	if best == nil && !crowded && p.light() {
		dark := *p
		dark.Grey = inverted(p.Grey)
		best, other, crowded = dark.best()
	}
	switch {
	case crowded:
		return &Reading{Status: None, Note: "too many small marks to tell a ruler among them"}
	case best == nil:
		return &Reading{Status: None, Note: "no column of marks at equal distances beside the picture"}
	case best.fault != "":
		return best.reading(Uncertain, "marks at equal distances, but "+best.fault)
	case other != nil && other.line.pitch < 0.6*best.line.pitch && math.Abs(other.x-best.x) <= elsewhere:
		return best.reading(Uncertain, fmt.Sprintf("finer marks stand between them, %.4g pixels apart", other.line.pitch))
	case other != nil:
		return best.reading(Uncertain, fmt.Sprintf("two rulers of different steps: %.4g and %.4g pixels", best.line.pitch, other.line.pitch))
	}
	mm, why := stepsOf(best.larger).size(best.steps(), p, best.line.pitch)
	if mm == 0 {
		return best.reading(UnknownStep, "steps of unknown size: "+why)
	}
	r := best.reading(Read, "")
	r.StepMM, r.StepWhy = mm, why
	return r
}

func (c *candidate) reading(s Status, note string) *Reading {
	return &Reading{
		Status: s, Note: note, X: c.x, First: c.line.first, Last: c.line.first + c.line.pitch*float64(c.steps()),
		Ticks: len(c.ticks), Expected: c.steps() + 1,
		Pitch: c.line.pitch, U: c.line.u, Residual: c.line.residual, Every: c.larger.every,
	}
}

// best is the ruler with most ticks at any level, with another that stands elsewhere
// and contradicts it; where there is none, the likeliest that is not certain. There are
// neither in a picture that is crowded with marks.
func (p *Picture) best() (best, other *candidate, crowded bool) {
	var sure, doubtful []*candidate
	looked := 0
	for _, level := range levels {
		for _, col := range columns(p.beside(p.marks(level))) {
			looked += len(col.marks)
			for _, ticks := range col.progressions() {
				if looked += len(ticks); looked > maxLooked {
					return nil, nil, true
				}
				c := p.judge(ticks, &col, level)
				switch {
				case c == nil:
				case c.fault == "":
					sure = append(sure, c)
				default:
					doubtful = append(doubtful, c)
				}
			}
		}
	}
	if best = mostTicks(sure); best == nil {
		return mostTicks(doubtful), nil, false
	}
	for _, c := range append(sure, doubtful...) {
		if math.Abs(c.x-best.x) <= elsewhere && c.finer(best) {
			return best, c, false
		}
	}
	for _, c := range sure {
		if math.Abs(c.x-best.x) > elsewhere && !sameRuler(c.line.pitch, best.line.pitch) {
			return best, c, false
		}
	}
	return best, nil, false
}

// finer tells that the ticks of another are only every so-manieth of these.
func (c *candidate) finer(other *candidate) bool {
	return len(c.ticks) > len(other.ticks) && c.line.pitch < 0.6*other.line.pitch && c.present() >= minPresent
}

// elsewhere is how far apart two columns stand that are two rulers, in pixels.
const elsewhere = 8

func mostTicks(all []*candidate) *candidate {
	var best *candidate
	for _, c := range all {
		if best == nil || len(c.ticks) > len(best.ticks) || len(c.ticks) == len(best.ticks) && c.line.residual < best.line.residual {
			best = c
		}
	}
	return best
}

// sameRuler tells that one pitch is a whole number of the other, as of the larger marks
// of a ruler that stands on both sides.
func sameRuler(a, b float64) bool {
	q := math.Max(a, b) / math.Min(a, b)
	return math.Abs(q-math.Round(q)) <= 0.01*q && math.Round(q) <= 10
}

// judge holds a run against what a ruler is. Nil is what is certainly none.
func (p *Picture) judge(ticks []tick, col *column, level byte) *candidate {
	ticks, l := trimmed(ticks)
	c := &candidate{ticks: ticks, line: l, larger: largerOf(ticks)}
	for _, t := range ticks {
		c.x += float64(t.x0+t.x1+1) / 2 / float64(len(ticks))
	}
	span, alone, whole := l.pitch*float64(c.steps()), 0, 0
	for _, t := range ticks {
		if p.alone(t.mark, level) {
			alone++
		}
		if p.whole(t.mark, level) {
			whole++
		}
	}
	count := float64(len(ticks))
	covered := minSpan
	if c.larger.every == 0 {
		covered = minSpanAlike
	}
	if l.pitch < minPitch || span < covered*p.height() || float64(alone) < minAlone*count || float64(whole) < minWhole*count {
		return nil
	}
	var faults []string
	if c.present() < minPresent {
		faults = append(faults, fmt.Sprintf("%d of %d are seen", len(ticks), c.steps()+1))
	}
	if limit := math.Min(maxResidual, maxResidualShare*l.pitch); l.residual > limit {
		faults = append(faults, fmt.Sprintf("they lie off equal distances by %.2f pixels", l.residual))
	}
	if dark, gaps := p.darkGaps(ticks); float64(dark) < minDark*float64(gaps) {
		faults = append(faults, "other marks stand between most of them")
	}
	if 2*l.scatter > maxScatter*l.pitch {
		faults = append(faults, "their scatter leaves the scale uncertain by more than 0.5 %")
	}
	if s := strangers(ticks, col); float64(s) > maxStrangers*count {
		faults = append(faults, fmt.Sprintf("other marks among them: %d", s))
	}
	if alikeShare(ticks, c.larger) < minAlike {
		faults = append(faults, "they are of many sizes")
	}
	if h := median(c.larger.small(ticks), tick.height); h > math.Max(lowPixels, lowShare*l.pitch) {
		faults = append(faults, fmt.Sprintf("they are %.3g pixels high", h))
	}
	if fading(ticks, c.larger) > maxFading {
		faults = append(faults, "they fade from one end to the other")
	}
	if len(faults) > 1 {
		return nil
	}
	if len(faults) == 1 {
		c.fault = faults[0]
	}
	return c
}

// strangers counts the marks of a column that stand between the ticks and are none.
func strangers(ticks []tick, col *column) int {
	of := map[*mark]bool{}
	for _, t := range ticks {
		of[t.mark] = true
	}
	n := 0
	for _, m := range col.marks {
		if m.row > ticks[0].row && m.row < ticks[len(ticks)-1].row && !of[m] {
			n++
		}
	}
	return n
}

// box is the scanned picture, cut to what is there.
func (p *Picture) box() Box {
	whole := Box{0, 0, p.Columns, p.Rows}
	b := Box{max(p.Box.X0, 0), max(p.Box.Y0, 0), min(p.Box.X1, p.Columns), min(p.Box.Y1, p.Rows)}
	if b.empty() {
		return whole
	}
	return b
}

func (p *Picture) height() float64 {
	b := p.box()
	return float64(b.Y1 - b.Y0)
}

// slack is how far beyond the rows of the box a tick may reach, in pixels, where there
// are strips.
const slack = 4

// beside keeps the marks that stand where rulers do: at the sides of the scanned
// picture or beyond them, and, where there are strips, in its rows and near it.
func (p *Picture) beside(marks []mark) []mark {
	b := p.box()
	inset := int(margin * float64(b.X1-b.X0))
	var out []mark
	for _, m := range marks {
		switch {
		case p.Strips && (m.y0 < b.Y0-slack || m.y1 >= b.Y1+slack):
		case p.Strips && (m.x1 < b.X0-inset/2 || m.x0 > b.X1+inset/2):
		case m.x1 < b.X0+inset, m.x0 > b.X1-inset,
			!p.Strips && (m.x1 < int(margin*float64(p.Columns)) || m.x0 > int((1-margin)*float64(p.Columns))):
			out = append(out, m)
		}
	}
	return out
}

// light tells a picture on a light ground, whose marks are dark: a quarter of it is
// nearly white.
func (p *Picture) light() bool {
	white := 0
	for _, v := range p.Grey {
		if v >= 200 {
			white++
		}
	}
	return white > len(p.Grey)/4
}

func inverted(grey []byte) []byte {
	out := make([]byte, len(grey))
	for i, v := range grey {
		out[i] = 255 - v
	}
	return out
}
