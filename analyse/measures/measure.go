package measures

import (
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
	Sides     bool
	Codes     []Code
	Labels    []string
	Published []Published
}

// Code is a coded concept that means a measure. Where Site is not empty, one of
// its SCT codes must stand among the concept's modifiers or containers; of With,
// all must.
type Code struct {
	Concept    dcm.Code
	Site, With []string
}

// Published is a range found in the literature, in the measure's unit. It belongs
// to its population and judges nobody else.
type Published struct {
	Min, Max           float64
	Population, Source string
}

// All is the whole catalogue in its order: heart, time, veins, head, lung,
// generic, then the families. The slice is the caller's, the measures are not to
// be changed.
func All() []Measure { return append([]Measure(nil), catalogue().measures...) }

// ByID finds a measure by its id.
func ByID(id string) (Measure, bool) {
	if i, ok := catalogue().byID[id]; ok {
		return catalogue().measures[i], true
	}
	return Measure{}, false
}

// IDs are the ids of all measures in the order of the catalogue.
func IDs() []string {
	ids := make([]string, len(catalogue().measures))
	for i, m := range catalogue().measures {
		ids[i] = m.ID
	}
	return ids
}
