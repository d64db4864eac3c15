package ingest

// Outcome is what became of a file that was met.
type Outcome string

// The outcomes of files.csv.
const (
	OutcomeImage        Outcome = "image"
	OutcomeReport       Outcome = "report"
	OutcomePresentation Outcome = "presentation"
	OutcomeOther        Outcome = "other"
	OutcomeDuplicate    Outcome = "duplicate"
	OutcomeConflict     Outcome = "conflict"
	OutcomeNotDICOM     Outcome = "not-dicom"
	OutcomeUnreadable   Outcome = "unreadable"
)

// Outcomes lists all outcomes in the order they are counted in summaries.
var Outcomes = []Outcome{
	OutcomeImage, OutcomeReport, OutcomePresentation, OutcomeOther,
	OutcomeDuplicate, OutcomeConflict, OutcomeNotDICOM, OutcomeUnreadable,
}

// Entry is the ledger's row for one file met: what it is, and why where that
// needs a reason. Reasons name tags, lengths and offsets, never values.
type Entry struct {
	Path                                             string
	Bytes                                            int64
	Outcome                                          Outcome
	Reason                                           string
	SOPClassUID, TransferSyntaxUID, StudyUID, SOPUID string
}

// Archive is everything that was read, in the order of the paths.
type Archive struct {
	Ledger    []Entry
	Instances []*Instance
	// Directories are the media directories among the files. What they say is not
	// used to read anything: the files decide.
	Directories []Directory
	// pictures is how images are opened again; see FirstFrame.
	pictures map[*Instance]opener
}
