package demo

import (
	"math"

	"leadline/ingest"
)

// probe is the shape of the scanned field.
type probe struct {
	linear bool
	// faceCM is the radius of a curved face, 0 for a phased one; half is half the
	// opening angle.
	faceCM, half float64
}

var (
	phased = probe{half: 0.68}
	curved = probe{faceCM: 1.1, half: 0.6}
	linear = probe{linear: true}
)

// beam is the place of a pixel in the scanned field: how far along and how far
// across the beams, both scaled to the grain of the speckle. ok is false outside.
func (p probe) beam(x, y, depth, halfWidth float64) (along, across float64, ok bool) {
	if p.linear {
		return y / 0.035, x / 0.06, y >= 0 && y <= depth && math.Abs(x) <= halfWidth
	}
	r := math.Hypot(x, y+p.faceCM)
	angle := math.Atan2(x, y+p.faceCM)
	return r / 0.04, angle / 0.025, r >= p.faceCM && r <= depth+p.faceCM && math.Abs(angle) <= p.half
}

// spot is a pixel of the field: where it is in cm and the grain of its speckle.
type spot struct {
	px, py int
	x, y   float64
	grain  float64
}

// besideRuler is how much of the width of a region a linear probe scans; its ruler stands
// in the rest.
const besideRuler = 0.9

// field2D lists the pixels of a 2D region that the probe scans.
func field2D(r region, p probe, seed uint64) []spot {
	_, depth := r.physical(r.corner())
	halfWidth := float64(r.x1-r.x0) / 2 * r.deltaX * besideRuler
	var spots []spot
	for py := r.y0; py <= r.y1; py++ {
		for px := r.x0; px <= r.x1; px++ {
			x, y := r.physical(centre(px, py))
			along, across, ok := p.beam(x, y, depth, halfWidth)
			if ok {
				spots = append(spots, spot{px: px, py: py, x: x, y: y, grain: speckle(across, along, seed)})
			}
		}
	}
	return spots
}

// draw2D paints a scene; inside box (nil: none) moving blood is coloured.
func draw2D(c canvas, spots []spot, s scene, phase float64, box *region) {
	for _, sp := range spots {
		level, flow := s.at(sp.x, sp.y, phase)
		grey := level * (0.3 + 0.95*sp.grain) * math.Exp(-0.03*sp.y)
		if box == nil || math.Abs(flow) < 5 || !box.inside(sp.px, sp.py) {
			c.grey(sp.px, sp.py, grey)
			continue
		}
		v := math.Min(1, math.Abs(flow)/60) * (0.6 + 0.4*sp.grain)
		if flow > 0 {
			c.rgb(sp.px, sp.py, 0.35+0.65*v, 0.75*v*v, 0.05)
		} else {
			c.rgb(sp.px, sp.py, 0.05, 0.7*v*v, 0.35+0.65*v)
		}
	}
	if box != nil {
		c.frameBox(box.x0, box.y0, box.x1, box.y1, 0.7)
	}
}

// region2D makes a 2D region that fills a box: a whole number of pixels to the
// centimetre downwards, aspect times as much across (1: square pixels), and the
// reference pixel in the middle of the probe's face.
func region2D(x0, y0, x1, y1 int, depthCM, aspect float64, dataType int) region {
	perCM := math.Floor(float64(y1-y0) / depthCM)
	return region{
		format: ingest.Format2D, dataType: dataType,
		x0: x0, y0: y0, x1: x1, y1: y1,
		ref:   &[2]int{(x1 - x0) / 2, 0},
		unitX: ingest.UnitCM, unitY: ingest.UnitCM,
		deltaX: 1 / (perCM * aspect), deltaY: 1 / perCM,
	}
}
