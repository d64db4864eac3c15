// Package coord keeps the two ways of naming a place in an image apart, so that
// half a pixel cannot slip in unnoticed.
//
// A Point is in continuous image coordinates: the outer corner of the top left
// pixel is (0,0), its centre (0.5,0.5), x runs to the right, y runs down. Graphic
// data of structured reports and presentation states (PIXEL units) already speak
// so (PS3.3 C.18.6, C.10.5).
//
// An Index counts whole pixels from 0. Region bounds and reference pixels of
// ultrasound regions speak so (PS3.3 C.8.5.5.1.14, C.8.5.5.1.16).
package coord

// Point is a place in continuous image coordinates, in pixels.
type Point struct{ X, Y float64 }

// Index is a zero-based pixel index along one axis. It may be negative or beyond
// the image: reference pixels of real files are both.
type Index int64

// Center is the continuous coordinate of the middle of pixel i.
func (i Index) Center() float64 { return float64(i) + 0.5 }
