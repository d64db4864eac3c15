package measures

import (
	"strings"

	"leadline/ingest/dcm"
	"leadline/ingest/report"
	"leadline/ingest/terms"
)

// Match is the measure that a concept or a label means. Side is left, right,
// bilateral, or empty where none is told.
type Match struct {
	Measure
	Side string
}

// SNOMED CT and DICOM codes that steer the mapping (PS3.16 CID 244, TID 5223).
const (
	codeRight     = "24028007"
	codeLeft      = "7771000"
	codeBilateral = "51440002"
)

// indexed is the modifier that says that a value was already divided by body
// size; the concept name stays that of the undivided value (TID 5223).
var indexed = dcm.Code{Value: "121425", Scheme: "DCM"}

// OfNumeric maps a number of a report: by its code with the modifiers and
// containers around it, else by its code meaning as a label.
func (x *Catalogue) OfNumeric(n *report.Numeric) (Match, bool) {
	return x.Lookup(n.Concept, n.Modifiers, n.Containers, n.Concept.Meaning)
}

// Lookup maps a coded concept, then a label. Of several measures that the code
// may mean, the one with the most conditions met is taken; between equals the
// one whose site stands nearest in modifiers, then containers. Where that leaves
// two, none is: the concept is ambiguous. A value divided by body size maps onto
// nothing. SRT, SNM3 and 99SDM codes are read as SCT.
func (x *Catalogue) Lookup(concept dcm.Code, modifiers []report.Modifier, containers []dcm.Code, label string) (Match, bool) {
	around := make([]dcm.Code, 0, len(modifiers)+len(containers))
	for _, m := range modifiers {
		if name := terms.Current(m.Name); name.Is(indexed.Value, indexed.Scheme) {
			return Match{}, false
		}
		around = append(around, terms.Current(m.Value))
	}
	for _, c := range containers {
		around = append(around, terms.Current(c))
	}
	x = x.orBuiltin()
	if place, ok := x.ofCode(terms.Current(concept), around); ok {
		return Match{Measure: x.measures[place], Side: sideOf(around)}, true
	}
	match, ok := x.OfLabel(label)
	if side := sideOf(around); ok && side != "" {
		match.Side = side
	}
	return match, ok
}

// OfLabel maps a whole label. Where it is not known as it stands, a word for the
// side is taken out for measures that have sides, then words at the end that say
// how it was measured (2D, M-mode, mean), and numbers there.
func (x *Catalogue) OfLabel(label string) (Match, bool) {
	x = x.orBuiltin()
	words := strings.Fields(terms.Normal(label))
	for len(words) > 0 {
		if place, ok := x.byLabel[strings.Join(words, " ")]; ok {
			return Match{Measure: x.measures[place]}, true
		}
		if m, ok := x.sided(words); ok {
			return m, true
		}
		shorter := x.withoutEnd(words)
		if len(shorter) == len(words) {
			break
		}
		words = shorter
	}
	return Match{}, false
}

// ofCode finds the measure of a concept among the codes around it.
func (x *Catalogue) ofCode(concept dcm.Code, around []dcm.Code) (place int, ok bool) {
	best, nearest, ambiguous := -1, 0, false
	for _, c := range x.byConcept[dcm.Code{Value: concept.Value, Scheme: concept.Scheme}] {
		conditions, at, fits := c.code.fits(around)
		switch {
		case !fits || conditions < best || (conditions == best && at > nearest):
		case conditions == best && at == nearest:
			ambiguous = ambiguous || c.measure != place
		default:
			best, nearest, place, ambiguous = conditions, at, c.measure, false
		}
	}
	return place, best >= 0 && !ambiguous
}

// fits tells whether the conditions of c hold, how many they are, and where the
// site stands.
func (c *Code) fits(around []dcm.Code) (conditions, site int, ok bool) {
	if len(c.Site) > 0 {
		site = position(around, c.Site...)
		if site < 0 {
			return 0, 0, false
		}
		conditions++
	}
	for _, w := range c.With {
		if position(around, w) < 0 {
			return 0, 0, false
		}
		conditions++
	}
	return conditions, site, true
}

// position is the first place where one of the values stands, or -1. They are SCT, or
// of the scheme that is written before them.
func position(around []dcm.Code, values ...string) int {
	for i, c := range around {
		for _, v := range values {
			scheme, value, other := strings.Cut(v, " ")
			if !other {
				scheme, value = "SCT", v
			}
			if c.Is(value, scheme) {
				return i
			}
		}
	}
	return -1
}

// sideOf is the nearest side that the modifiers tell.
func sideOf(around []dcm.Code) string {
	for _, c := range around {
		if c.Scheme != "SCT" {
			continue
		}
		switch c.Value {
		case codeLeft:
			return "left"
		case codeRight:
			return "right"
		case codeBilateral:
			return "bilateral"
		}
	}
	return ""
}

// sided looks for the label without one word that tells a side.
func (x *Catalogue) sided(words []string) (Match, bool) {
	for i, w := range words {
		side, ok := terms.Side(w)
		if !ok {
			continue
		}
		rest := strings.TrimSpace(strings.Join(words[:i], " ") + " " + strings.Join(words[i+1:], " "))
		if place, ok := x.byLabel[rest]; ok && x.measures[place].Sides {
			return Match{Measure: x.measures[place], Side: side}, true
		}
	}
	return Match{}, false
}

// withoutEnd drops one trailing expression or number; never the whole label.
func (x *Catalogue) withoutEnd(words []string) []string {
	if len(words) < 2 {
		return words
	}
	if strings.Trim(words[len(words)-1], "0123456789") == "" {
		return words[:len(words)-1]
	}
	label := strings.Join(words, " ")
	for _, t := range x.trailing {
		if rest, ok := strings.CutSuffix(label, " "+t); ok {
			return strings.Fields(rest)
		}
	}
	return words
}
