package presentation

import (
	"math"

	"leadline/ingest/coord"
)

// maxComparisons bounds how many texts are held against how many points of one
// annotation: a hostile state must not cost hours. A traced outline has some thousand
// points, a picture some twenty texts.
const maxComparisons = 400_000

// TextsOf answers which text of the annotation belongs to each of its graphics, as
// indices into Texts, -1 where none does or nothing tells. Presentation states
// have no such link; the rule is (first that applies):
//
//  1. the only text with the same compound graphic instance id,
//  2. the only text with the same graphic group id,
//  3. among texts and graphics without such a partner: the text whose anchor, else
//     whose box, is nearest to the graphic, if no other graphic is as near to that
//     text and no other text as near to that graphic,
//  4. the only text of the annotation, if it has one graphic.
//
// Distances are in pixels of the image; of an annotation whose points cannot be
// placed there, in the units that graphic and text share.
func (s *State) TextsOf(a *Annotation, instanceUID string, frame int) []int {
	p := pairing{a: a, of: make([]int, len(a.Graphics)), taken: make([]bool, len(a.Texts))}
	for i := range p.of {
		p.of[i] = -1
	}
	p.byID(func(g *Graphic) int { return g.InstanceID }, func(t *Text) int { return t.InstanceID })
	p.byID(func(g *Graphic) int { return g.GroupID }, func(t *Text) int { return t.GroupID })
	p.byPlace(s, instanceUID, frame)
	if len(a.Graphics) == 1 && len(a.Texts) == 1 {
		p.of[0] = 0
	}
	return p.of
}

type pairing struct {
	a     *Annotation
	of    []int
	taken []bool
}

// byID pairs by an id that one text bears; several graphics may share it.
func (p *pairing) byID(ofGraphic func(*Graphic) int, ofText func(*Text) int) {
	const several = -2
	owner := map[int]int{}
	for i := range p.a.Texts {
		id := ofText(&p.a.Texts[i])
		if _, taken := owner[id]; taken {
			i = several
		}
		owner[id] = i
	}
	delete(owner, 0)
	for i := range p.a.Graphics {
		t, ok := owner[ofGraphic(&p.a.Graphics[i])]
		if p.of[i] == -1 && ok && t != several {
			p.of[i], p.taken[t] = t, true
		}
	}
}

// comparisons is what it costs to hold every text against every point.
func (a *Annotation) comparisons() int {
	points := 0
	for i := range a.Graphics {
		points += len(a.Graphics[i].Points)
	}
	return points * len(a.Texts)
}

// byPlace pairs what is nearest to each other.
func (p *pairing) byPlace(s *State, instanceUID string, frame int) {
	if p.a.comparisons() > maxComparisons {
		return // Read named it
	}
	convert := map[string]func(coord.Point) coord.Point{}
	for _, units := range []string{UnitsPixel, UnitsDisplay, UnitsMatrix} {
		convert[units], _ = s.converter(units, instanceUID, frame)
	}
	graphics, texts := newNearest(len(p.a.Graphics)), newNearest(len(p.a.Texts))
	for i := range p.a.Graphics {
		for k := range p.a.Texts {
			if p.of[i] != -1 || p.taken[k] {
				continue
			}
			if d := distance(&p.a.Graphics[i], &p.a.Texts[k], convert); !math.IsNaN(d) {
				graphics[i].meet(k, d)
				texts[k].meet(i, d)
			}
		}
	}
	for i, g := range graphics {
		if g.at >= 0 && !g.tie && texts[g.at].at == i && !texts[g.at].tie {
			p.of[i] = g.at
		}
	}
}

// nearest is the nearest partner so far; tie tells that another is as near.
type nearest struct {
	at  int
	d   float64
	tie bool
}

func newNearest(n int) []nearest {
	list := make([]nearest, n)
	for i := range list {
		list[i] = nearest{at: -1, d: math.Inf(1)}
	}
	return list
}

func (n *nearest) meet(at int, d float64) {
	switch {
	case d < n.d:
		*n = nearest{at: at, d: d}
	case d == n.d:
		n.tie = true
	}
}

// distance is from the graphic to the text's anchor, else to its box; not a number
// where the two have no coordinates in common.
func distance(g *Graphic, t *Text, convert map[string]func(coord.Point) coord.Point) float64 {
	first, last, units := t.Anchor.Value, t.Anchor.Value, t.AnchorUnits
	if !t.Anchor.Set {
		if !t.BoxTopLeft.Set || !t.BoxBottom.Set {
			return math.NaN()
		}
		first, last, units = t.BoxTopLeft.Value, t.BoxBottom.Value, t.BoxUnits
	}
	ofGraphic, ofText := convert[g.Units], convert[units]
	if ofGraphic == nil || ofText == nil {
		if g.Units != units || units == "" {
			return math.NaN()
		}
		ofGraphic = func(p coord.Point) coord.Point { return p }
		ofText = ofGraphic
	}
	first, last = ofText(first), ofText(last)
	box := rectangle{math.Min(first.X, last.X), math.Min(first.Y, last.Y), math.Max(first.X, last.X), math.Max(first.Y, last.Y)}
	best := math.NaN()
	before := coord.Point{}
	for i, p := range g.Points {
		p = ofGraphic(p)
		if i == 0 {
			before = p
		}
		if box.apart(before, p) > best {
			before = p
			continue
		}
		if d := box.distance(before, p); math.IsNaN(best) || d < best {
			best = d
		}
		before = p
	}
	return best
}
