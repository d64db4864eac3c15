package analyse

import "leadline/ingest"

// Action is one thing to do: a row of the list that a meeting goes through.
type Action struct {
	// Order is the place in the list, from 1; Class says what kind of fault it is, and
	// the classes are in the order in which they are to be mended.
	Order int
	Class ActionClass
	// Study is the study it is about, nil where it is about a device or the archive;
	// Device the device it is about, or that made the study. Both may be absent.
	Study  *Study
	Device *ingest.Device
	// Studies and Times count the studies it is about, and how often it was met.
	Studies, Times int
	// Problem says what is missing or wrong, Todo what to do, in short sentences.
	Problem, Todo string
	// Files are the paths that it is about, where it is about files. They stand apart
	// because folders may be named after the patient.
	Files []string
}

// ActionClass is the kind of fault of an Action. Its number is its place in the
// order of mending.
type ActionClass int

// The classes: what misleads a reader comes first, then what is missing, and last
// what concerns a device rather than a study.
const (
	ActionMisleads ActionClass = iota + 1
	ActionMissing
	ActionPartial
	ActionDoubtful
	ActionNotAssessable
	ActionDevice
	ActionFiles
)

// Why says why actions of the class stand where they do.
func (c ActionClass) Why() string {
	switch c {
	case ActionMisleads:
		return "Misleads a reader"
	case ActionMissing:
		return "Required, missing"
	case ActionPartial:
		return "Required, in part"
	case ActionDoubtful:
		return "Look before use"
	case ActionNotAssessable:
		return "Cannot be judged"
	case ActionDevice:
		return "Of the device: mend once"
	}
	return "Of files"
}
