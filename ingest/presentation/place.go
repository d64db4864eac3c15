package presentation

import (
	"slices"

	"leadline/ingest/coord"
	"leadline/ingest/dcm"
)

// The annotation units (PS3.3 C.10.5).
const (
	UnitsPixel   = "PIXEL"
	UnitsDisplay = "DISPLAY"
	UnitsMatrix  = "MATRIX"
)

// refersTo tells whether one of refs means this frame of this image; frame 0 is the
// image as a whole. A reference without frames means all of them.
func refersTo(refs []dcm.Reference, instanceUID string, frame int) bool {
	for _, ref := range refs {
		if ref.InstanceUID == instanceUID && (frame == 0 || len(ref.Frames) == 0 || slices.Contains(ref.Frames, frame)) {
			return true
		}
	}
	return false
}

// ImagePoints gives the points of a graphic in continuous image coordinates of
// the image. PIXEL points already are such, whatever rotation and zoom (PS3.3
// C.10.5). DISPLAY points are fractions f of the displayed area, whose corners are
// whole pixels counted from 1 (C.10.4):
//
//	x = (left − 1) + f · (right − left + 1)
//
// which holds only without rotation and flip. Where the points cannot be given,
// ok is false and reason says why. frame counts from 1; 0 asks for the image as a
// whole, and then all areas of its frames must agree.
func (s *State) ImagePoints(g Graphic, instanceUID string, frame int) (points []coord.Point, reason string, ok bool) {
	convert, reason := s.converter(g.Units, instanceUID, frame)
	if convert == nil {
		return nil, reason, false
	}
	points = make([]coord.Point, len(g.Points))
	for i, p := range g.Points {
		points[i] = convert(p)
	}
	return points, "", true
}

// converter answers how points in units become image coordinates, nil and the
// reason where they cannot.
func (s *State) converter(units, instanceUID string, frame int) (func(coord.Point) coord.Point, string) {
	switch units {
	case UnitsPixel:
		return func(p coord.Point) coord.Point { return p }, ""
	case UnitsDisplay:
	case UnitsMatrix:
		return nil, "the points are in units of a tiled image (MATRIX)"
	default:
		return nil, "the units of the points are neither PIXEL nor DISPLAY"
	}
	if s.RotationDeg != 0 || s.Flip {
		return nil, "the points are fractions of a display that is rotated or flipped"
	}
	area, reason := s.area(instanceUID, frame)
	if reason != "" {
		return nil, reason
	}
	left, top := float64(area.TopLeft[0]-1), float64(area.TopLeft[1]-1)
	width, height := float64(area.BottomRight[0])-left, float64(area.BottomRight[1])-top
	return func(p coord.Point) coord.Point {
		return coord.Point{X: left + p.X*width, Y: top + p.Y*height}
	}, ""
}

// area is the displayed area of an image: one that names it, else one for all.
func (s *State) area(instanceUID string, frame int) (Area, string) {
	var named, general []Area
	for _, a := range s.Areas {
		switch {
		case len(a.Images) == 0:
			general = append(general, a)
		case refersTo(a.Images, instanceUID, frame):
			named = append(named, a)
		}
	}
	if len(named) == 0 {
		named = general
	}
	if len(named) == 0 {
		return Area{}, "the points are fractions of a displayed area that is not given for the image"
	}
	for _, a := range named[1:] {
		if a.TopLeft != named[0].TopLeft || a.BottomRight != named[0].BottomRight {
			return Area{}, "the points are fractions of a displayed area, and several are given for the image"
		}
	}
	return named[0], ""
}
