package measures

import (
	"errors"
	"maps"
	"regexp"
	"slices"
	"strings"

	"leadline/analyse"
	"leadline/analyse/physical"
	"leadline/ingest"
	"leadline/ingest/dcm"
	"leadline/ingest/terms"
)

// unitsOf are the units that each quantity may have inside the program.
var unitsOf = map[analyse.QuantityKind][]physical.Unit{
	analyse.Distance: {physical.MM}, analyse.PathLength: {physical.MM}, analyse.Perimeter: {physical.MM},
	analyse.Depth: {physical.MM}, analyse.DepthDifference: {physical.MM}, analyse.VelocityTimeIntegral: {physical.MM},
	analyse.Area: {physical.MM2}, analyse.Volume: {physical.ML}, analyse.Angle: {physical.Deg},
	analyse.Duration: {physical.S}, analyse.Velocity: {physical.CMPerS}, analyse.Acceleration: {physical.CMPerS2},
	analyse.Pressure: {physical.MMHg}, analyse.MeanGradient: {physical.MMHg}, analyse.MeanVelocity: {physical.CMPerS},
	analyse.Rate: {physical.PerMin}, analyse.Ratio: {physical.One, physical.Percent},
}

var planes = []string{string(PlaneAny), string(Plane2D), string(PlaneMMode), string(PlaneSpectral)}

var kebab = regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`)

// Extended is the catalogue with the rows of a unit: more labels and codes of its
// measures, and measures of the unit's own. Every row that does not fit is an
// *ingest.TableError with its place, joined; x itself does not change.
func (x *Catalogue) Extended(rows []ingest.MeasureRow) (*Catalogue, error) {
	x = x.orBuiltin()
	e := extension{new: &Catalogue{
		measures: slices.Clone(x.measures), trailing: x.trailing,
		byID: maps.Clone(x.byID), byConcept: maps.Clone(x.byConcept), byLabel: maps.Clone(x.byLabel),
	}, given: x}
	for i := range rows {
		e.row = &rows[i]
		e.add()
	}
	if len(e.errs) > 0 {
		return nil, errors.Join(e.errs...)
	}
	return e.new, nil
}

// extension is a catalogue while rows are added to it.
type extension struct {
	given, new *Catalogue
	row        *ingest.MeasureRow
	errs       []error
}

func (e *extension) fail(column, expected string) {
	e.errs = append(e.errs, &ingest.TableError{File: e.row.Table, Line: e.row.Line, Column: column, Expected: expected})
}

func (e *extension) add() {
	r := e.row
	place, known := e.new.byID[r.ID]
	switch _, built := e.given.byID[r.ID]; {
	case !known && !e.defined():
		return
	case !known:
		place = len(e.new.measures)
		e.new.byID[r.ID] = place
		e.new.measures = append(e.new.measures, e.measure())
	case built && (r.Title+r.Definition+r.Quantity+r.Unit+r.Plane != "" || r.Sides):
		e.fail("measure", "only label or code for a measure of the catalogue; it cannot be defined again")
		return
	}
	if known && r.Label == "" && r.Code.IsZero() {
		e.fail("label", "a label here or a code in the column code")
	}
	e.label(place)
	e.code(place)
}

// defined tells that a row defines a measure. An id without any definition is more
// likely a misspelt one.
func (e *extension) defined() bool {
	r, faults := e.row, len(e.errs)
	if r.Title == "" && r.Quantity == "" && r.Unit == "" {
		expected := "the id of a measure, or title, quantity and unit of a new one"
		if near := terms.Nearest(r.ID, e.new.IDs()); near != "" {
			expected += ", perhaps " + near
		}
		e.fail("measure", expected)
		return false
	}
	if !kebab.MatchString(r.ID) {
		e.fail("measure", "a new id of small letters, digits and hyphens")
	}
	if r.Title == "" {
		e.fail("title", "the name of the new measure in words")
	}
	quantities := quantityWords()
	if !slices.Contains(quantities, r.Quantity) {
		e.fail("quantity", oneOf(quantities, r.Quantity))
	} else if list := unitsOf[analyse.QuantityKind(r.Quantity)]; !slices.Contains(list, physical.Unit(r.Unit)) {
		e.fail("unit", "the unit that Leadline keeps this quantity in: "+joined(list))
	}
	if r.Plane != "" && !slices.Contains(planes, r.Plane) {
		e.fail("plane", oneOf(planes, r.Plane))
	}
	return len(e.errs) == faults
}

func (e *extension) measure() Measure {
	r := e.row
	m := Measure{
		ID: r.ID, Title: r.Title, Definition: r.Definition, Quantity: analyse.QuantityKind(r.Quantity),
		Unit: physical.Unit(r.Unit), Plane: Plane(r.Plane), Sides: r.Sides,
	}
	if m.Plane == "" {
		m.Plane = PlaneAny
	}
	return m
}

func (e *extension) label(place int) {
	if e.row.Label == "" {
		return
	}
	normal := terms.Normal(e.row.Label)
	if normal == "" {
		e.fail("label", "a label with letters or digits")
		return
	}
	if other, taken := e.new.byLabel[normal]; taken && other != place {
		e.fail("label", "a label of its own; this one belongs to "+e.new.measures[other].ID)
		return
	}
	e.new.byLabel[normal] = place
	m := &e.new.measures[place]
	m.Labels = append(slices.Clip(m.Labels), e.row.Label)
}

func (e *extension) code(place int) {
	if e.row.Code.IsZero() {
		return
	}
	concept := terms.Current(e.row.Code)
	concept = dcm.Code{Value: concept.Value, Scheme: concept.Scheme}
	for _, c := range e.new.byConcept[concept] {
		if len(c.code.Site)+len(c.code.With) == 0 && c.measure != place {
			e.fail("code", "a code of its own; this one belongs to "+e.new.measures[c.measure].ID)
			return
		}
	}
	code := Code{Concept: concept}
	e.new.byConcept[concept] = append(slices.Clip(e.new.byConcept[concept]), coded{place, code})
	m := &e.new.measures[place]
	m.Codes = append(slices.Clip(m.Codes), code)
}

func quantityWords() []string {
	words := make([]string, 0, len(unitsOf))
	for q := range unitsOf {
		words = append(words, string(q))
	}
	slices.Sort(words)
	return words
}

func oneOf(words []string, word string) string {
	expected := "one of " + strings.Join(words, " ")
	if near := terms.Nearest(word, words); near != "" {
		expected += ", perhaps " + near
	}
	return expected
}

func joined(units []physical.Unit) string {
	words := make([]string, len(units))
	for i, u := range units {
		words[i] = string(u)
	}
	return strings.Join(words, " or ")
}
