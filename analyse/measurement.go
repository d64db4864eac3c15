package analyse

import (
	"encoding/binary"
	"math"

	"leadline/analyse/physical"
	"leadline/ingest"
)

// Source is where a measurement was found.
type Source string

// The sources of measurements.csv.
const (
	SourceReport       Source = "report"
	SourcePresentation Source = "presentation"
	SourceTable        Source = "table"
)

// QuantityKind is what kind of quantity a measurement is of.
type QuantityKind string

// The quantities that can be rebuilt, or reported.
const (
	Distance           QuantityKind = "distance"
	PathLength         QuantityKind = "length"
	Perimeter          QuantityKind = "perimeter"
	Area               QuantityKind = "area"
	Volume             QuantityKind = "volume"
	Angle              QuantityKind = "angle"
	Depth              QuantityKind = "depth"
	DepthDifference    QuantityKind = "depth-difference"
	Duration           QuantityKind = "duration"
	Velocity           QuantityKind = "velocity"
	VelocityDifference QuantityKind = "velocity-difference"
	Slope              QuantityKind = "slope"
	Acceleration       QuantityKind = "acceleration"
	Pressure           QuantityKind = "pressure"
	Rate               QuantityKind = "rate"
	Ratio              QuantityKind = "ratio"
	// VelocityTimeIntegral is the area under a velocity envelope; its unit is mm.
	VelocityTimeIntegral QuantityKind = "velocity-time-integral"
	// MeanVelocity and MeanGradient are averages over the time of a traced envelope.
	MeanVelocity    QuantityKind = "mean-velocity"
	MeanGradient    QuantityKind = "mean-gradient"
	UnknownQuantity QuantityKind = ""
)

// Verdict is what a reported value and a rebuilt one say of each other.
type Verdict string

// The verdicts of measurements.csv. Suspect: the calibration contradicts its own
// image, so the value is shown and used nowhere.
const (
	VerdictAgrees       Verdict = "agrees"
	VerdictDiffers      Verdict = "differs"
	VerdictSuspect      Verdict = "suspect"
	VerdictReportedOnly Verdict = "reported-only"
	VerdictRebuiltOnly  Verdict = "rebuilt-only"
	VerdictNotRebuilt   Verdict = "not-rebuilt"
)

// Verdicts lists all verdicts in the order they are counted.
var Verdicts = []Verdict{
	VerdictAgrees, VerdictDiffers, VerdictSuspect, VerdictRebuiltOnly,
	VerdictReportedOnly, VerdictNotRebuilt,
}

// Reported is a number as the archive gives it. Text is the way it is written,
// Unit its unit code as written.
type Reported struct {
	Value float64
	Text  string
	Unit  string
}

// In is the number in a unit, with the standard uncertainty of rounding to its last
// place (rectangular, JCGM 100:2008 4.3.7); false where its unit is another kind.
func (r *Reported) In(unit physical.Unit) (physical.Quantity, bool) {
	c, known := physical.ParseUnit(r.Unit)
	place, _ := physical.LastPlace(r.Text)
	q := physical.Quantity{Value: r.Value * c.Factor, StdU: place / 2 / math.Sqrt(3) * c.Factor, Unit: unit}
	return q, known && c.Unit == unit
}

// Measurement is one quantity with its caliper, its reported value, or both.
type Measurement struct {
	// Number counts the measurements of a study from 1.
	Number int
	// Measure is the canonical kind, empty where the label maps onto none, and Title
	// what people call it.
	Measure, Title string
	// Side is left, right, bilateral, or empty where none is told.
	Side string
	// Label is the code meaning (reports), the text beside the graphic
	// (annotations) or the label column (caliper table).
	Label        string
	Code, Scheme string
	// Modifiers are the coded modifiers in words, e.g. "Finding Site: Aortic root".
	Modifiers []string
	Selected  bool
	Source    Source
	// SourceUID is the SOP Instance UID of the report or presentation state.
	SourceUID string
	// Table and Line are the place in a caliper table.
	Table string
	Line  int
	// SOPUID is the image the caliper lies on, Frames the frames, from 1.
	SOPUID   string
	Frames   []int
	Observer string

	Geometry ingest.Geometry
	Points   []ingest.Point
	// Second is the other plane of a volume of two planes, nil for all else; image,
	// frames, points, region and calibration of the measurement are those of the first.
	Second *SecondPlane
	// Mode is the kind of picture that the caliper lies in, else the one a report says.
	Mode Mode
	// Region is the ordinal of the region used, 0 where none was.
	Region int
	// Calibration is what turned pixels into physical values.
	Calibration CalibrationSource
	Quantity    QuantityKind

	// Rebuilt is nil where nothing could be rebuilt; Note says why then.
	Rebuilt *physical.Quantity
	// ScaleU is the part of its uncertainty that an error of the scale would cause.
	ScaleU ScaleU
	// Shared is what each coordinate adds that other measurements of the study were
	// computed from too. OwnU is what all its other coordinates add together; it is set
	// where Shared holds any.
	Shared   []Contribution
	OwnU     float64
	Reported *Reported
	// Difference is reported minus rebuilt and Tolerance what it may be, both in
	// the unit of Rebuilt; absent where the two cannot be compared.
	Difference, Tolerance ingest.Optional[float64]
	Verdict               Verdict
	// Reason is the id of the finding that explains why nothing was rebuilt or
	// compared, empty where nothing stood in the way; Note says it in words.
	Reason string
	Note   string
	// Faults are typical faults that would explain why the values differ; empty where
	// they agree or none explains it.
	Faults []Fault
	// Compared holds the value against published limits of its measure.
	Compared []Comparison
}

// ScaleU are standard uncertainties of a value from errors of the scale of length,
// time and velocity, signed, in the unit of the value. All values of one scale share
// its error: what it adds to one it adds to the others in proportion, so it cancels
// in their ratios. Each is part of the value's standard uncertainty; all are 0 where
// no tolerance of the calibration is given.
type ScaleU struct{ Length, Time, Velocity float64 }

// StdU is the standard uncertainty of all three, which are independent.
func (s ScaleU) StdU() float64 {
	return math.Sqrt(s.Length*s.Length + s.Time*s.Time + s.Velocity*s.Velocity)
}

// UncertaintyRule is what the protocol of a study says of its uncertainties.
type UncertaintyRule struct {
	// Protocol is the name of the protocol that says so, empty where none does.
	Protocol string
	// PlacementPX is the standard uncertainty of placing one coordinate of a caliper,
	// in pixels, by measure. It stands instead of the quantisation of pixels.
	PlacementPX map[string]float64
	// ScaleTolerance is how far the scale of a calibration may be off, as a part of
	// it (0.02 is 2 %); taken as a rectangular distribution. 0 is not given.
	ScaleTolerance float64
}

// ScaleRelativeU is the relative standard uncertainty of a scale (JCGM 100:2008
// 4.3.7).
func (r *UncertaintyRule) ScaleRelativeU() float64 { return r.ScaleTolerance / math.Sqrt(3) }

// CaliperKey is equal for measurements that hold one caliper point by point: two
// reports, or a report and a table, may hold the same. It is for comparing only.
func (m *Measurement) CaliperKey() string {
	key := make([]byte, 0, 128)
	for _, word := range []string{m.SOPUID, string(m.Geometry), string(m.Quantity)} {
		key = append(append(key, word...), 0)
	}
	for _, f := range m.NamedFrames() {
		key = binary.BigEndian.AppendUint64(key, uint64(f))
	}
	key = append(key, 0)
	key = appendPoints(key, m.Points)
	if m.Second != nil {
		key = appendPoints(append(append(key, 0), m.Second.SOPUID...), m.Second.Points)
	}
	return string(key)
}

// NamedFrames are the frames that the caliper lies on, none for the first alone: it
// is that of a still, which reports leave out and tables write.
func (m *Measurement) NamedFrames() []int { return NamedFrames(m.Frames) }

// NamedFrames is the same for any frames.
func NamedFrames(frames []int) []int {
	if len(frames) == 1 && frames[0] == 1 {
		return nil
	}
	return frames
}

// CalibrationSource is where the scale of a rebuilt value comes from.
type CalibrationSource string

// The calibration sources, in the order of trust.
const (
	CalibrationRegion  CalibrationSource = "region"
	CalibrationSpacing CalibrationSource = "pixel-spacing"
	CalibrationTiming  CalibrationSource = "frame-timing"
	CalibrationNone    CalibrationSource = "none"
)
