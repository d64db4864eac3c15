package analyse

import "leadline/ingest"

// Contribution is what the error of one coordinate adds to a value: its derivative
// by the coordinate times the standard uncertainty of the coordinate, with its sign,
// in the unit of the value (JCGM 100:2008 5.1.3). What one coordinate adds to two
// values moves them together, so what it adds to a quantity made of both is the sum
// of the two, each times the derivative by its value.
type Contribution struct {
	Of   *Coordinate
	StdU float64
}

// Coordinate is one number that several measurements of a study were computed from.
// Each stands once in a study, so that equal pointers are one coordinate.
//
// Two calipers share a point where both coordinates are exactly equal on the same
// frames of one image: whoever stores the calipers that were set on one line repeats
// the point they have in common digit by digit. Points that are merely near are two.
type Coordinate struct {
	// Number counts those of a study from 1; x and y of one point have the same Spot.
	Number, Spot int
	// SOPUID is the image, Frames its frames as the calipers name them.
	SOPUID string
	Frames []int
	Axis   Axis
	// Point is what the coordinate is of; of a clip its X is the number of the frame.
	Point ingest.Point
}

// Axis is which number of a point or a clip a coordinate is.
type Axis string

// The coordinates: of a point, the place in time of a frame of a clip, and the time
// from frame to frame.
const (
	AxisX      Axis = "x"
	AxisY      Axis = "y"
	AxisFrame  Axis = "frame"
	AxisPeriod Axis = "period"
)
