package analyse

import (
	"encoding/binary"
	"math"

	"leadline/ingest"
)

// GeometryBiplane is the shape of a volume of two planes: in each the long axis of a
// cavity and its contour, as in ingest.GeometryDiscs.
const GeometryBiplane ingest.Geometry = "biplane-discs"

// SecondPlane is the other plane of a volume of two planes, with its own image and its
// own calibration. Points are both ends of the long axis, then the contour. Region is 0
// where Pixel Spacing scaled it, or where nothing was rebuilt.
type SecondPlane struct {
	SOPUID string
	Frames []int
	Points []ingest.Point
	Region int
}

// appendPoints adds points to the key of a caliper, bit by bit.
func appendPoints(key []byte, points []ingest.Point) []byte {
	for _, p := range points {
		key = binary.BigEndian.AppendUint64(key, math.Float64bits(p.X))
		key = binary.BigEndian.AppendUint64(key, math.Float64bits(p.Y))
	}
	return key
}
