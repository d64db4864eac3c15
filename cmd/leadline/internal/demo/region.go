package demo

import (
	"github.com/suyashkumar/dicom/pkg/tag"

	"leadline/ingest"
	"leadline/ingest/coord"
)

// Region data types (PS3.3 C.8.5.5.1.2).
const (
	dataTissue = 1
	dataColour = 2
	dataPW     = 3
	dataCW     = 4
	dataECG    = 10
)

// region is the calibration of a part of a picture, drawn from and written out.
// Bounds are inclusive pixel indices, ref counts from (x0, y0); nil is absent.
type region struct {
	format, dataType, flags int
	x0, y0, x1, y1          int
	ref                     *[2]int
	refValue                [2]float64
	unitX, unitY            int
	deltaX, deltaY          float64
	frequencyKHz, prfHz     int
	// angleDeg is the Doppler correction angle; spectral regions only.
	angleDeg float64
}

func (r region) spectral() bool { return r.format == ingest.FormatSpectral }

// at is the place of a physical value, in continuous image coordinates: the
// inverse of the mapping of PS3.3 C.8.5.5.1.16 and .17. The reference pixel is an
// index, so its centre lies half a pixel further.
func (r region) at(x, y float64) coord.Point {
	ref := r.reference()
	return coord.Point{
		X: ref.X + (x-r.refValue[0])/r.deltaX,
		Y: ref.Y + (y-r.refValue[1])/r.deltaY,
	}
}

// physical is the value at a place.
func (r region) physical(p coord.Point) (x, y float64) {
	ref := r.reference()
	return r.refValue[0] + (p.X-ref.X)*r.deltaX, r.refValue[1] + (p.Y-ref.Y)*r.deltaY
}

func (r region) reference() coord.Point {
	x, y := r.x0, r.y0
	if r.ref != nil {
		x, y = x+r.ref[0], y+r.ref[1]
	}
	return coord.Point{X: coord.Index(x).Center(), Y: coord.Index(y).Center()}
}

// item writes the region (PS3.3 C.8.5.5, table C.8-17).
func (r region) item() *dataSet {
	d := &dataSet{}
	d.ints(tag.RegionSpatialFormat, r.format)
	d.ints(tag.RegionDataType, r.dataType)
	d.ints(tag.RegionFlags, r.flags)
	d.ints(tag.RegionLocationMinX0, r.x0)
	d.ints(tag.RegionLocationMinY0, r.y0)
	d.ints(tag.RegionLocationMaxX1, r.x1)
	d.ints(tag.RegionLocationMaxY1, r.y1)
	if r.ref != nil {
		d.ints(tag.ReferencePixelX0, r.ref[0])
		d.ints(tag.ReferencePixelY0, r.ref[1])
		d.floats(tag.ReferencePixelPhysicalValueX, r.refValue[0])
		d.floats(tag.ReferencePixelPhysicalValueY, r.refValue[1])
	}
	d.ints(tag.PhysicalUnitsXDirection, r.unitX)
	d.ints(tag.PhysicalUnitsYDirection, r.unitY)
	d.floats(tag.PhysicalDeltaX, r.deltaX)
	d.floats(tag.PhysicalDeltaY, r.deltaY)
	d.ints(tag.TransducerFrequency, r.frequencyKHz)
	if r.prfHz > 0 {
		d.ints(tag.PulseRepetitionFrequency, r.prfHz)
	}
	if r.spectral() {
		d.floats(tag.DopplerCorrectionAngle, r.angleDeg)
	}
	return d
}

// inside tells whether the pixel of index (x, y) belongs to the region.
func (r region) inside(x, y int) bool { return x >= r.x0 && x <= r.x1 && y >= r.y0 && y <= r.y1 }

// depthCM is what a region shows of depths, from its upper to its lower edge.
func (r region) depthCM() float64 { return r.deltaY * float64(r.y1-r.y0+1) }

// corner is the middle of the last pixel.
func (r region) corner() coord.Point { return centre(r.x1, r.y1) }

// centre is the middle of the pixel of index (x, y).
func centre(x, y int) coord.Point {
	return coord.Point{X: coord.Index(x).Center(), Y: coord.Index(y).Center()}
}
