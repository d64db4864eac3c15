// Package report walks the content tree of a structured report once and lists
// what it holds: numbers with their units, modifiers and calipers, the images it
// refers to, its coded and textual statements, and its state.
//
// It knows no image and judges nothing.
package report

import (
	"leadline/ingest/coord"
	"leadline/ingest/dcm"
)

// Document is one structured report (PS3.3 C.17).
type Document struct {
	Title      dcm.Code
	TemplateID string
	// Templates are the template ids of all containers, root included, each once,
	// in the order of the tree. Many writers leave them out (C.18.8.1.2).
	Templates []string
	// The flags as the file writes them, e.g. COMPLETE, VERIFIED, FINAL.
	CompletionFlag, VerificationFlag, PreliminaryFlag string
	Verifications                                     []Verification
	// Observers are the persons named as observers; they are people.
	Observers []string
	// Numerics are the numbers that stand for themselves or serve as the input of
	// another. Numbers that qualify another item (see Qualifying) are no
	// measurements; those of a number or of its containers are its Modifiers.
	Numerics []Numeric
	// Qualifying counts the NUM items that acquisition context, properties, concept
	// modifiers or observation context relations tie to another item.
	Qualifying int
	Statements []Statement
	// Images are all instances that image items of the report refer to.
	Images []dcm.Reference
	// Views are what image items say of the view of their images.
	Views []ImageView
	// Problems say in words what of the tree could not be read; no values.
	Problems []string
}

// ImageView is the view that an image item states of its images by the concept
// Image View (111031, DCM), as in an image library.
type ImageView struct {
	Images []dcm.Reference
	View   dcm.Code
}

// IsImageView tells the concept Image View, which image items and numbers of the
// echocardiography templates state as acquisition context (PS3.16 TID 5203).
func IsImageView(c dcm.Code) bool { return isDCM(c, conceptImageView) }

// Verification is one entry of the verifying observer sequence. DateTime is a DT
// value; Observer is a person.
type Verification struct{ DateTime, Observer string }

// Statement is a coded or textual item: concept name and value. Text may hold
// free text about a patient.
type Statement struct {
	Path    string
	Concept dcm.Code
	Value   dcm.Code
	Text    string
}

// Modifier is a concept modifier, acquisition context or property of a number:
// name and coded value, or text, or number with unit. What hangs under a modifier
// (laterality and topography under a finding site, TID 300 rows 6, 7) follows it
// in the list.
type Modifier struct {
	Relation string
	Name     dcm.Code
	Value    dcm.Code
	Text     string
	// Number and Unit are set where the modifier is a NUM; Text is then the number
	// as written.
	Number dcm.Optional[float64]
	Unit   dcm.Code
}

// Numeric is one NUM content item.
//
// Value is absent where the item holds no value; Text is the value as written,
// which tells its last place. Modifiers are its own first, then those inherited
// from the containers above, nearest first: vessel, side and section of a
// measurement stand up to three levels above it (TID 5103, 5104, 5202).
type Numeric struct {
	// Path is the place in the tree as ordinals from the root, which is 1.
	Path string
	// Relation is its relationship type to the item above, as written.
	Relation  string
	Concept   dcm.Code
	Value     dcm.Optional[float64]
	Text      string
	Unit      dcm.Code
	Qualifier dcm.Code
	Modifiers []Modifier
	// Containers are the concept names of the containers above, nearest first.
	Containers []dcm.Code
	Graphics   []Graphic
	// Images are images the number is inferred from without coordinates.
	Images []dcm.Reference
	// Inputs are the paths of the NUM items it is inferred from.
	Inputs []string
	// Selection is the value of its Selection Status (TID 310), the zero Code where
	// it has none: which of several takes was chosen.
	Selection  dcm.Code
	ShortLabel string
	// TrackingID and Observer are its own, else those of the nearest container
	// above; several observers are joined by "; ". They are people.
	TrackingID string
	Observer   string
	// ObservedDateTime is a DT value, its own or that of the nearest item above.
	ObservedDateTime string
}

// Link tells how a graphic was tied to its number.
type Link string

// The links, in the order they are tried; the rule is written at (*reader).link.
const (
	LinkOwn       Link = "own"
	LinkGroup     Link = "group"
	LinkContainer Link = "container"
)

// Graphic is an SCOORD item: graphic type as the file writes it (POINT
// MULTIPOINT POLYLINE CIRCLE ELLIPSE), points in continuous image coordinates,
// and the images it was selected from. Several POINT items that are the vertices
// of one path are one POLYLINE. Points and Images may be shared with other
// numbers' graphics and must not be changed.
type Graphic struct {
	// Path is the place of the item, of the first one where several were joined.
	Path    string
	Type    string
	Purpose dcm.Code
	Points  []coord.Point
	Images  []dcm.Reference
	Link    Link
}
