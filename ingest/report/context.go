package report

import (
	"strings"

	"leadline/ingest/dcm"
)

// context is what a container says about every number under it.
type context struct {
	concept            dcm.Code
	modifiers          []Modifier
	observer, tracking string
}

// contextOf reads container i once.
func (r *reader) contextOf(i int) *context {
	c := r.contexts[i]
	if c == nil {
		c = &context{concept: r.concept(i), modifiers: r.modifiers(i), observer: r.observersAt(i), tracking: r.textAt(i, conceptTrackingID)}
		r.contexts[i] = c
	}
	return c
}

// modifiers lists what modifies item i, by value or by reference, each followed by
// what modifies the modifier.
func (r *reader) modifiers(i int) []Modifier {
	var out []Modifier
	for _, c := range r.nodes[i].children {
		relation, at := r.nodes[c].relation, r.nodes[c].target
		if at == none || !modifies(relation) || !r.isModifier(at) {
			continue
		}
		out = append(out, r.modifier(relation, at))
		if at != c {
			continue // a target has its own place; what hangs there is not repeated
		}
		out = r.below(c, out)
	}
	return out
}

// below appends the modifiers of modifier c, down to the last level.
func (r *reader) below(c int, out []Modifier) []Modifier {
	for k := c + 1; k < r.nodes[c].end; k++ {
		if modifies(r.nodes[k].relation) && r.nodes[k].target == k && r.isModifier(k) {
			out = append(out, r.modifier(r.nodes[k].relation, k))
		}
	}
	return out
}

// isModifier tells the items that are kept as modifiers. Short label, tracking id
// and selection have fields of their own; the last is a modifier as well.
func (r *reader) isModifier(i int) bool {
	switch r.nodes[i].kind {
	case typeCode, typeText, typeNumber:
		c := r.concept(i)
		return !isLanguage(c) && !isDCM(c, conceptShortLabel) && !isDCM(c, conceptTrackingID)
	}
	return false
}

func (r *reader) modifier(relation string, i int) Modifier {
	m := Modifier{Relation: relation, Name: r.concept(i)}
	item := r.nodes[i].item
	switch r.nodes[i].kind {
	case typeCode:
		m.Value = item.Code(dcm.ConceptCodeSequence)
	case typeText:
		m.Text = item.Text(dcm.TextValue)
	case typeNumber:
		v := r.measured(i)
		m.Number, m.Text, m.Unit = v.value, v.text, v.unit
	}
	return m
}

// textAt is the first text child of item i with this DCM concept.
func (r *reader) textAt(i int, concept string) string {
	for _, c := range r.nodes[i].children {
		if r.nodes[c].kind == typeText && isDCM(r.concept(c), concept) {
			return r.nodes[c].item.Text(dcm.TextValue)
		}
	}
	return ""
}

// observersAt names the observers that item i states, directly or under its
// observer type, joined by "; ".
func (r *reader) observersAt(i int) string {
	var names []string
	for _, c := range r.nodes[i].children {
		if name := r.observerName(c); name != "" {
			names = append(names, name)
		}
		if r.nodes[c].kind != typeCode || r.nodes[c].relation != relationObserved {
			continue
		}
		for _, k := range r.nodes[c].children {
			if name := r.observerName(k); name != "" {
				names = append(names, name)
			}
		}
	}
	return strings.Join(names, "; ")
}

// observerName is the name that item i gives of a person who observed, empty
// where it is no such item. The standard's concept is taken from PNAME and TEXT,
// as real files write both; a local concept only from PNAME in observation
// context. The names of subjects and mothers stand there too and are no observers.
func (r *reader) observerName(i int) string {
	n := &r.nodes[i]
	if n.kind != typePerson && n.kind != typeText {
		return ""
	}
	concept := r.concept(i)
	if isDCM(concept, conceptObserverName) {
		if n.kind == typeText {
			return n.item.Text(dcm.TextValue)
		}
		return n.item.String(dcm.PersonName)
	}
	local := n.kind == typePerson && n.relation == relationObserved && concept.Scheme != schemeDCM
	if local {
		return n.item.String(dcm.PersonName)
	}
	return ""
}
