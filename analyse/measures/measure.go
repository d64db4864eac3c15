package measures

import (
	"cmp"

	"leadline/analyse"
	"leadline/analyse/physical"
	"leadline/ingest/dcm"
)

// Plane is where a measure is usually taken.
type Plane string

// The planes of the catalogue.
const (
	PlaneAny      Plane = "any"
	Plane2D       Plane = "2d"
	PlaneMMode    Plane = "m-mode"
	PlaneSpectral Plane = "spectral"
)

// Measure is one canonical kind of measurement.
type Measure struct {
	// ID is a kebab word, e.g. lv-internal-diameter-diastole.
	ID, Title, Definition string
	// Quantity is what the measure is of, Unit its unit inside the program. A
	// Distance that is taken in a strip is a depth difference there.
	Quantity analyse.QuantityKind
	Unit     physical.Unit
	Plane    Plane
	// Sides tells that the measure exists left and right.
	Sides bool
	// Unspecific tells a property of something that the file does not name: two of
	// them in a study may be of two things.
	Unspecific bool
	Codes      []Code
	Labels     []string
}

// Code is a coded concept that means a measure. Where Site is not empty, one of
// its SCT codes must stand among the concept's modifiers or containers; of With,
// all must. One of another scheme has it before it: "DCM 125207".
type Code struct {
	Concept    dcm.Code
	Site, With []string
}

// Builtin is the catalogue that comes with the program.
func Builtin() *Catalogue { return builtin() }

func (x *Catalogue) orBuiltin() *Catalogue {
	if x == nil {
		return builtin()
	}
	return x
}

// All is the whole catalogue in its order: heart, time, veins, head, lung,
// generic, then the families, then those of a unit. The slice is the caller's, the
// measures are not to be changed.
func (x *Catalogue) All() []Measure { return append([]Measure(nil), x.orBuiltin().measures...) }

// ByID finds a measure by its id.
func (x *Catalogue) ByID(id string) (Measure, bool) {
	x = x.orBuiltin()
	if i, ok := x.byID[id]; ok {
		return x.measures[i], true
	}
	return Measure{}, false
}

// TitleOf is what people call a measure of the built-in catalogue; another id stays as
// it is.
func TitleOf(id string) string {
	m, _ := Builtin().ByID(id)
	return cmp.Or(m.Title, id)
}

// IDs are the ids of all measures in the order of the catalogue.
func (x *Catalogue) IDs() []string {
	x = x.orBuiltin()
	ids := make([]string, len(x.measures))
	for i, m := range x.measures {
		ids[i] = m.ID
	}
	return ids
}
