// Package presentation reads the graphics and texts of presentation states
// (PS3.3 C.10.4, C.10.5, C.10.7). It knows no image and judges nothing.
package presentation

import (
	"leadline/ingest/coord"
	"leadline/ingest/dcm"
)

// State is one presentation state.
type State struct {
	Label string
	// Images are all images the state applies to.
	Images      []dcm.Reference
	Annotations []Annotation
	Areas       []Area
	Layers      []Layer
	// RotationDeg and Flip are the spatial transformation (C.10.6).
	RotationDeg int
	Flip        bool
	// Creator made the annotations; a person.
	Creator  string
	Problems []string
}

// Annotation is one item of Graphic Annotation Sequence. Images is empty where
// it applies to all images of the state.
type Annotation struct {
	Layer    string
	Images   []dcm.Reference
	Graphics []Graphic
	Texts    []Text
}

// Graphic is a graphic or compound graphic object. Units is PIXEL (continuous
// image coordinates), DISPLAY (fractions of the displayed area) or MATRIX.
//
// Type is as the file writes it: of a simple graphic POINT, POLYLINE,
// INTERPOLATED, CIRCLE or ELLIPSE, of a compound one e.g. RULER or AXIS. Shape
// tells what either is in terms of calipers.
//
// A compound graphic and the simple graphics drawn in its stead bear the same
// instance id, and only one of the two is kept (see dropRepeated), so each caliper
// stands once (C.10.5.1.3.1).
type Graphic struct {
	Type     string
	Units    string
	Points   []coord.Point
	Filled   bool
	Compound bool
	// GroupID and InstanceID are Graphic Group ID and Compound Graphic Instance ID,
	// 0 where the file gives none.
	GroupID, InstanceID int
}

// Text is a text object: free text, and its anchor or box in the units given.
type Text struct {
	Text                  string
	AnchorUnits, BoxUnits string
	Anchor                dcm.Optional[coord.Point]
	// BoxTopLeft and BoxBottom are the top left and the bottom right corner.
	BoxTopLeft, BoxBottom dcm.Optional[coord.Point]
	GroupID, InstanceID   int
}

// Area is a displayed area: its corners are whole pixels counted from 1, column
// then row. Images is empty where it applies to all.
type Area struct {
	Images               []dcm.Reference
	TopLeft, BottomRight [2]int
}

// Layer is a graphic layer; lower order is drawn first.
type Layer struct {
	Name, Description string
	Order             int
}
