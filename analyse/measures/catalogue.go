package measures

import (
	"bytes"
	_ "embed"
	"fmt"
	"slices"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"go.yaml.in/yaml/v3"

	"leadline/analyse"
	"leadline/analyse/physical"
	"leadline/ingest/dcm"
	"leadline/ingest/terms"
)

//go:embed catalogue.yaml
var catalogueYAML []byte

// builtin is read once; a catalogue that cannot be read is a fault of the program,
// which its tests find.
var builtin = sync.OnceValue(func() *Catalogue {
	x, err := read(catalogueYAML)
	if err != nil {
		panic("reading the embedded measures: " + err.Error())
	}
	return x
})

// Catalogue are measures with the codes and labels that lead to them. A nil one
// stands for the catalogue that comes with the program. Numbers are places in
// measures.
type Catalogue struct {
	measures []Measure
	byID     map[string]int
	// byConcept holds for each value and scheme all codes that begin with it.
	byConcept map[dcm.Code][]coded
	// byLabel is keyed by terms.Normal.
	byLabel  map[string]int
	trailing []string
}

type coded struct {
	measure int
	code    Code
}

// The shapes of catalogue.yaml.
type (
	document struct {
		Measures []entry
		Families []family
		Trailing []string
	}
	entry struct {
		ID, Title, Definition string
		Quantity              analyse.QuantityKind
		Unit                  physical.Unit
		Plane                 Plane
		Sides, Unspecific     bool
		Codes                 []entryCode
		Labels                []string
		// MemberLabels say this property of a member of a family, and alone another measure.
		MemberLabels []string `yaml:"memberLabels"`
	}
	entryCode struct {
		Code       string
		Site, With []string
		MemberOnly bool `yaml:"memberOnly"`
	}
	family struct {
		Alone         bool
		PropertyFirst bool `yaml:"propertyFirst"`
		Members       []member
		Properties    []entry
	}
	member struct {
		ID, Title string
		Site      []string
		Sides     bool
		Labels    []string
	}
)

// UnmarshalYAML lets a code without conditions be written as a plain text.
func (c *entryCode) UnmarshalYAML(n *yaml.Node) error {
	if n.Kind == yaml.ScalarNode {
		return n.Decode(&c.Code)
	}
	type plain entryCode
	return n.Decode((*plain)(c))
}

func read(data []byte) (*Catalogue, error) {
	dec := yaml.NewDecoder(bytes.NewReader(data))
	dec.KnownFields(true)
	var doc document
	if err := dec.Decode(&doc); err != nil {
		return nil, err
	}
	entries := doc.Measures
	for _, f := range doc.Families {
		entries = append(entries, f.expand()...)
	}
	x := &Catalogue{
		byID:      map[string]int{},
		byConcept: map[dcm.Code][]coded{},
		byLabel:   map[string]int{},
	}
	for i := range entries {
		if err := x.add(&entries[i]); err != nil {
			return nil, err
		}
	}
	for _, w := range doc.Trailing {
		x.trailing = append(x.trailing, terms.Normal(w))
	}
	return x, nil
}

func (x *Catalogue) add(e *entry) error {
	m := Measure{
		ID: e.ID, Title: e.Title, Definition: e.Definition, Quantity: e.Quantity, Unit: e.Unit,
		Plane: e.Plane, Sides: e.Sides, Unspecific: e.Unspecific, Labels: e.Labels,
	}
	place := len(x.measures)
	if _, taken := x.byID[m.ID]; taken {
		return fmt.Errorf("measure %s stands twice", m.ID)
	}
	x.byID[m.ID] = place
	for _, c := range e.Codes {
		scheme, value, ok := strings.Cut(c.Code, " ")
		if !ok {
			return fmt.Errorf("measure %s: code %q needs a scheme and a value", m.ID, c.Code)
		}
		code := Code{Concept: dcm.Code{Value: value, Scheme: scheme}, Site: c.Site, With: c.With}
		m.Codes = append(m.Codes, code)
		x.byConcept[code.Concept] = append(x.byConcept[code.Concept], coded{place, code})
	}
	for _, label := range m.Labels {
		normal := terms.Normal(label)
		if other, taken := x.byLabel[normal]; taken && other != place {
			return fmt.Errorf("label %q belongs to %s and to %s", label, x.measures[other].ID, m.ID)
		}
		x.byLabel[normal] = place
	}
	x.measures = append(x.measures, m)
	return nil
}

// expand writes a family out: every member with every property, and the
// properties alone where the family says so.
func (f *family) expand() []entry {
	var out []entry
	for _, p := range f.Properties {
		for _, m := range f.Members {
			out = append(out, f.join(&m, p))
		}
		if f.Alone {
			out = append(out, alone(p))
		}
	}
	return out
}

func (f *family) join(m *member, p entry) entry {
	e := p
	e.ID, e.Title = m.ID+"-"+p.ID, m.Title+", "+p.Title
	if f.PropertyFirst {
		e.ID, e.Title = p.ID+"-"+m.ID, p.Title+", "+m.Title
	}
	e.Sides, e.Codes, e.Labels = m.Sides, nil, nil
	for _, c := range p.Codes {
		if len(m.Site) > 0 {
			e.Codes = append(e.Codes, entryCode{Code: c.Code, Site: m.Site, With: c.With})
		}
	}
	for _, a := range m.Labels {
		for _, b := range slices.Concat(p.Labels, p.MemberLabels) {
			e.Labels = append(e.Labels, a+" "+b, b+" "+a)
		}
	}
	return e
}

func alone(p entry) entry {
	first, size := utf8.DecodeRuneInString(p.Title)
	p.Title = string(unicode.ToUpper(first)) + p.Title[size:]
	p.Sides, p.Unspecific = true, true
	var codes []entryCode
	for _, c := range p.Codes {
		if !c.MemberOnly {
			codes = append(codes, c)
		}
	}
	p.Codes = codes
	return p
}
