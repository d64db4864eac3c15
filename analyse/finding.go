package analyse

import "leadline/ingest"

// Severity is how much a finding matters. It belongs to the finding's id.
type Severity string

// The severities, most severe first.
const (
	Error   Severity = "error"
	Warning Severity = "warning"
	Note    Severity = "note"
)

// Rank orders severities, the most severe first.
func (s Severity) Rank() int {
	switch s {
	case Error:
		return 0
	case Warning:
		return 1
	}
	return 2
}

// Finding is one thing that a reader should look at. Message never holds patient
// data: names, ids, birth dates or free text of a file.
type Finding struct {
	Severity Severity
	// ID is the check's id, a kebab word, and Title its title.
	ID, Title string
	// StudyUID, SOPUID and Path say where, as far as it applies.
	StudyUID, SOPUID, Path string
	Message, Advice        string
	// Files are the paths that the finding is about, where they are several. They
	// stand apart from Message because folders may be named after the patient.
	Files []string
	// Device is the device that the finding is about, where it is about one as a
	// whole. It stands apart from Message because serial numbers identify.
	Device *ingest.Device
}

// Check is one question asked of a study. It is a value: one file and one
// exported variable each in analyse/checks.
type Check struct {
	// ID is a kebab word; Title says it in at most 60 letters, without capital
	// or full stop.
	ID, Title string
	// Doc says what is looked for, why it matters, and the source. Advice says
	// what the reader does next.
	Doc, Advice string
	Severity    Severity
	// Graded tells that protocols may grade it: a finding that bears a severity of
	// its own keeps it.
	Graded bool
	// OfDevice tells that the finding speaks of what a device or an export writes
	// into files (scale, timing, history): a check of devices asks these only.
	OfDevice bool
	// Run is pure: it reads the study and returns findings of which it fills
	// SOPUID and Message; the driver fills the rest. It may be nil for an
	// id that another stage raises.
	Run func(*Study) []Finding
}
