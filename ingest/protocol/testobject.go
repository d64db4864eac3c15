package protocol

import (
	"time"

	"leadline/ingest/dcm"
)

// TestObject is a file about one test object (phantom): its targets with their true
// distances, its material, and how its scans are told from studies of patients.
type TestObject struct {
	// File is where it was read from.
	File              string
	Name, Title, Note string
	Scans             Scans
	Material          Material
	// IntervalMonths is how often every device should be tested; absent is not said.
	IntervalMonths dcm.Optional[int]
	// Baselines are tried in their order; the first that is for a device is its own.
	Baselines []Baseline
	Targets   []Target
}

// Scans tells which studies are scans of the test object. One entry of any list is
// enough, and a study that no list names is none, whatever it looks like.
type Scans struct {
	// Words stand in study, series or procedure descriptions or the protocol name of
	// a series (terms.Contains).
	Words []string
	// PatientIDs are whole values of Patient ID, Studies Study Instance UIDs.
	PatientIDs, Studies []string
	// Temperature is that of the material in °C, where no day has its own.
	Temperature  dcm.Optional[float64]
	Temperatures map[time.Time]float64
}

// Material is what the test object is made of, as far as sound goes.
type Material struct {
	// SpeedMS is the speed of sound in m/s at AtDegrees °C, and U its expanded
	// uncertainty (k = 2) as certificates give it, 0 where it is not given.
	SpeedMS, U float64
	AtDegrees  dcm.Optional[float64]
	// PerDegree is its change in m/s for each °C.
	PerDegree dcm.Optional[float64]
	// AssumedMS is the speed that the scanner reckons with.
	AssumedMS float64
	// Source says where the speed was printed.
	Source string
}

// AssumedSpeedMS is the speed of sound that scanners reckon with where nothing else
// is said (shared/reference/measurements.md 3.2).
const AssumedSpeedMS = 1540

// Baseline is the time from which the limits of control charts are made, both days
// included. Devices are words in maker, model, station name or serial number; none
// is every device.
type Baseline struct {
	From, To time.Time
	Devices  []string
}

// Direction is how a target lies to the beam.
type Direction string

// The directions.
const (
	Axial   Direction = "axial"
	Lateral Direction = "lateral"
)

// Target is one known distance of a test object.
type Target struct {
	ID, Title string
	Direction Direction
	// DistanceMM is the true distance and U its expanded uncertainty (k = 2) as the
	// certificate gives it, 0 where it is not given.
	DistanceMM, U float64
	// Tolerance is what a distance may be off.
	Tolerance Tolerance
	// Measures and Labels say which measurements are its own: of a canonical measure,
	// or of a label, which may end in * for any ending.
	Measures []Ref
	Labels   []string
}

// Tolerance is the larger of millimetres and per cent of the true distance.
type Tolerance struct {
	MM, Percent float64
	Source      string
}

// OfMM is the tolerance of a true distance.
func (t Tolerance) OfMM(distance float64) float64 { return max(t.MM, t.Percent/100*distance) }

// tolerances are the action levels for distances where a target gives none of its
// own (figures second-hand, title seen; shared/reference/measurements.md 3.1 and
// check-values.md 3).
var tolerances = map[Direction]Tolerance{
	Axial:   {1.5, 1.5, actionLevels},
	Lateral: {2, 2, actionLevels},
}

const actionLevels = "action level of AAPM Ultrasound Task Group 1, Goodsitt 1998, Med Phys 25:1385 (figures second-hand)"
