package report

import (
	"fmt"
	"strings"

	"leadline/ingest/dcm"
)

// measurement is the value part of a NUM item.
type measurement struct {
	value dcm.Optional[float64]
	text  string
	unit  dcm.Code
}

// numbers reads every NUM item and ties the graphics to them.
func (r *reader) numbers() {
	graphics := r.link()
	for i := range r.nodes {
		switch {
		case r.nodes[i].kind != typeNumber:
		case qualifies(r.nodes[i].relation):
			r.doc.Qualifying++
		case !r.numeric(i, graphics[i]):
			r.problem(i, fmt.Sprintf("at most %d modifiers, containers and images of numbers; this number and those behind it are left out", maxEntries))
			return
		}
	}
}

// numeric appends number i. It answers false where the limit of entries is reached:
// a number without its modifiers would be taken for another.
func (r *reader) numeric(i int, graphics []Graphic) bool {
	n := Numeric{Path: r.path(i), Relation: r.nodes[i].relation, Concept: r.concept(i), Graphics: graphics}
	v := r.measured(i)
	n.Value, n.Text, n.Unit = v.value, v.text, v.unit
	n.Qualifier = r.nodes[i].item.Code(dcm.NumericValueQualifierCodeSequence)
	n.Modifiers = r.modifiers(i)
	n.Selection = selection(n.Modifiers)
	n.ShortLabel = r.textAt(i, conceptShortLabel)
	n.TrackingID = r.textAt(i, conceptTrackingID)
	n.Observer = r.observersAt(i)
	if !r.inherit(&n, i) {
		return false
	}
	for _, c := range r.nodes[i].children {
		switch at := r.nodes[c].target; {
		case at == none:
		case r.nodes[at].kind == typeImage:
			n.Images = append(n.Images, r.imagesAt(at)...)
		case r.nodes[at].kind == typeNumber && r.nodes[c].relation == relationInferred:
			n.Inputs = append(n.Inputs, r.path(at))
		}
	}
	r.entries -= len(n.Images)
	if r.entries < 0 {
		return false
	}
	r.doc.Numerics = append(r.doc.Numerics, n)
	return true
}

func selection(modifiers []Modifier) dcm.Code {
	for _, m := range modifiers {
		if isDCM(m.Name, conceptSelectionStatus) {
			return m.Value
		}
	}
	return dcm.Code{}
}

// inherit adds what the containers above say, nearest first, and the observation
// time of the nearest item that has one.
func (r *reader) inherit(n *Numeric, i int) bool {
	r.entries -= len(n.Modifiers)
	for c := r.container(i); c != none; c = r.container(c) {
		up := r.contextOf(c)
		if r.entries -= len(up.modifiers) + 1; r.entries < 0 {
			return false
		}
		n.Containers = append(n.Containers, up.concept)
		n.Modifiers = append(n.Modifiers, up.modifiers...)
		if n.Observer == "" {
			n.Observer = up.observer
		}
		if n.TrackingID == "" {
			n.TrackingID = up.tracking
		}
	}
	for at := i; at != none && n.ObservedDateTime == ""; at = r.nodes[at].parent {
		n.ObservedDateTime = r.nodes[at].item.String(dcm.ObservationDateTime)
	}
	return r.entries >= 0
}

// measured reads the Measured Value Sequence of NUM item i (PS3.3 Table C.18.1-1):
// no item or one. Floating Point Value is preferred for the value, the decimal
// string tells the last place; a fraction serves where both are missing. More
// than one value is none: nothing says which is meant.
func (r *reader) measured(i int) measurement {
	items := r.nodes[i].item.Items(dcm.MeasuredValueSequence)
	if len(items) == 0 {
		return measurement{}
	}
	if len(items) > 1 {
		r.problem(i, "at most one measured value")
		return measurement{}
	}
	item := &items[0]
	m := measurement{unit: item.Code(dcm.MeasurementUnitsCodeSequence)}
	decimals, doubles := item.Floats(dcm.NumericValue), item.Floats(dcm.FloatingPointValue)
	if len(decimals) > 1 || len(doubles) > 1 {
		r.problem(i, "one numeric value")
		return m
	}
	if len(decimals) == 1 {
		m.value, m.text = dcm.Some(decimals[0]), item.String(dcm.NumericValue)
	} else if strings.TrimSpace(item.String(dcm.NumericValue)) != "" {
		r.problem(i, "a numeric value that is a decimal number")
	}
	switch {
	case len(doubles) == 1:
		m.value = dcm.Some(doubles[0])
	case !m.value.Set:
		m.value = fraction(item)
	}
	return m
}

func fraction(item *dcm.Dataset) dcm.Optional[float64] {
	top, hasTop := item.Float(dcm.RationalNumeratorValue).Get()
	bottom, hasBottom := item.Float(dcm.RationalDenominatorValue).Get()
	if !hasTop || !hasBottom || bottom == 0 {
		return dcm.Optional[float64]{}
	}
	return dcm.Some(top / bottom)
}
