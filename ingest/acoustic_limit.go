package ingest

// AcousticIndex is an output index of the display standard.
type AcousticIndex string

// The indices that a limit may be of. TI is the largest thermal index that the header
// gives, whatever its kind.
const (
	IndexMI  AcousticIndex = "MI"
	IndexTIS AcousticIndex = "TIS"
	IndexTIB AcousticIndex = "TIB"
	IndexTIC AcousticIndex = "TIC"
	IndexTI  AcousticIndex = "TI"
)

// AcousticLimit is one row of a table of recommended limits: what an output index
// should not lie above in one kind of exam, or how long it may.
type AcousticLimit struct {
	Index AcousticIndex
	// Exam is a kebab word. Words say in headers that an image is of it
	// (terms.Contains); rows of one exam share them.
	Exam  string
	Words []string
	// Above is the limit. Minutes is how long a scan above it may last, 0 where it is
	// not recommended at all, absent where no time is named.
	Above   float64
	Minutes Optional[float64]
	// Seen is seen or from memory (of the published text), or local; Source is where
	// the limit was printed.
	Seen, Source string
}
