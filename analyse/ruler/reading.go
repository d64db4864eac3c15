package ruler

// Status says what came of looking for a ruler.
type Status string

// The statuses. Only Read has a scale.
const (
	Read        Status = "read"
	UnknownStep Status = "unknown-step"
	Uncertain   Status = "uncertain"
	None        Status = "none"
	NotDecoded  Status = "not-decoded"
)

// Reading is what is said about the ruler of one picture. Lengths in the picture are
// in pixels, rows counted as continuous image coordinates.
type Reading struct {
	Status Status
	// Note says why there is no scale, or what else is to be known.
	Note string
	// X is the column of the marks' middle, First and Last the rows of the outermost.
	X, First, Last float64
	// Ticks were found of Expected between the first and the last, both included.
	Ticks, Expected int
	// Pitch is the distance of two ticks with its standard uncertainty U (JCGM 100,
	// straight line through the rows against their numbers); Residual is the scatter
	// of the rows about the line, root mean square.
	Pitch, U, Residual float64
	// Every is how many ticks there are from one larger mark to the next, 0 where all
	// are alike.
	Every int
	// StepMM is what a pitch stands for, with the reason in words.
	StepMM  float64
	StepWhy string
}

// PerCM is the number of pixels to a centimetre of depth, with its standard
// uncertainty; ok is false where the ruler was not read.
func (r *Reading) PerCM() (value, u float64, ok bool) {
	if r == nil || r.Status != Read {
		return 0, 0, false
	}
	perStep := 10 / r.StepMM
	return r.Pitch * perStep, r.U * perStep, true
}

// SpanMM is the depth between the first and the last tick of a ruler that was read.
func (r *Reading) SpanMM() float64 { return float64(r.Expected-1) * r.StepMM }

// Picture is what a ruler is looked for in.
type Picture struct {
	Columns, Rows int
	// Grey is the brightness of every pixel, row after row.
	Grey []byte
	// Box holds the bounds of the scanned picture, which end with X1 and Y1 excluded;
	// its zero value is the whole picture.
	Box Box
	// Strips tells that there are traces beside the scanned picture, with marks of
	// their own: only the rows of the box are looked at.
	Strips bool
	// DepthMM is how deep the picture is said to go, 0 where it is not said.
	DepthMM float64
	// ScalesPerCM are the scales of the header that the ruler may be held against.
	// They make a doubtful step unknown, and never a step known.
	ScalesPerCM []float64
}

// Box is a stretch of a picture in pixels.
type Box struct{ X0, Y0, X1, Y1 int }

func (b Box) empty() bool { return b.X1 <= b.X0 || b.Y1 <= b.Y0 }
