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
	// The flags as the file writes them, e.g. COMPLETE, VERIFIED, FINAL.
	CompletionFlag, VerificationFlag, PreliminaryFlag string
	Verifications                                     []Verification
	// Observers are the persons named as observers; they are people.
	Observers  []string
	Numerics   []Numeric
	Statements []Statement
	// Images are all instances that image items of the report refer to.
	Images []dcm.Reference
	// Problems say in words what of the tree could not be read; no values.
	Problems []string
}

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
// name and coded value, or text.
type Modifier struct {
	Relation string
	Name     dcm.Code
	Value    dcm.Code
	Text     string
}

// Numeric is one NUM content item.
//
// Value is absent where the item holds no value; Text is the value as written,
// which tells its last place. Modifiers are its own first, then those inherited
// from the containers above, nearest first: vessel, side and section of a
// measurement stand up to three levels above it (TID 5103, 5104, 5202).
type Numeric struct {
	// Path is the place in the tree as ordinals from the root, which is 1.
	Path      string
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
	Inputs           []string
	ShortLabel       string
	TrackingID       string
	Observer         string
	ObservedDateTime string
}

// Link tells how a graphic was tied to its number.
type Link string

// Own: the graphic hangs under the number, by value or by reference. Group: it
// hangs under the number's own container, to which all its numbers belong (TID
// 1410). Container: number and graphic are the only ones of a common container.
const (
	LinkOwn       Link = "own"
	LinkGroup     Link = "group"
	LinkContainer Link = "container"
)

// Graphic is an SCOORD item: graphic type as the file writes it (POINT
// MULTIPOINT POLYLINE CIRCLE ELLIPSE), points in continuous image coordinates,
// and the images it was selected from.
type Graphic struct {
	Path    string
	Type    string
	Purpose dcm.Code
	Points  []coord.Point
	Images  []dcm.Reference
	Link    Link
}
