package demo

import (
	"leadline/ingest"
	"leadline/ingest/coord"
)

// picture is one drawn image: the calibration it was drawn from, the frames of one
// cycle, and places in it that a person would measure.
type picture struct {
	columns, rows int
	colour        bool
	regions       []region
	frames        []canvas
	marks         map[string]mark
}

// mark is a caliper by name: points in a region of the picture (its place in the
// list), on a frame counted from 1.
type mark struct {
	region   int
	frame    int
	geometry ingest.Geometry
	points   []coord.Point
}

// lens is how a picture is taken.
type lens struct {
	columns, rows int
	depthCM       float64
	// aspect is how many times narrower than high a pixel is; 1 for square ones.
	aspect float64
	probe  probe
	// frames are drawn over one cycle, rate is cycles per second.
	frames  int
	rate    float64
	seed    uint64
	caption string
	ruler   scaleLook
}

// captionRows is the height of the line of text above the picture.
const captionRows = 14

// picture2D draws a scene, with a colour box in cm (x0, y0, x1, y1) where asked for.
func picture2D(l lens, s scene, box *[4]float64) *picture {
	r := region2D(2, captionRows, l.columns-3, l.rows-3, l.depthCM, l.aspect, dataTissue)
	p := l.blank(box != nil, r)
	var colour *region
	if box != nil {
		b := colourBox(r, *box)
		colour = &b
		p.regions = append(p.regions, b)
	}
	spots := field2D(r, l.probe, l.seed)
	for f := range max(l.frames, 1) {
		c := l.begin()
		draw2D(c, spots, s, float64(f)/float64(max(l.frames, 1)), colour)
		ruler(c, r, l.ruler)
		p.frames = append(p.frames, c)
	}
	return p
}

// colourBox is the region of colour flow inside a tissue region: the same scale,
// other bounds, the reference pixel at the same place (PS3.3 C.8.5.5.1.3).
func colourBox(r region, box [4]float64) region {
	b := r
	b.dataType = dataColour
	from, to := r.at(box[0], box[1]), r.at(box[2], box[3])
	b.x0, b.y0 = max(int(from.X), r.x0), max(int(from.Y), r.y0)
	b.x1, b.y1 = min(int(to.X), r.x1), min(int(to.Y), r.y1)
	b.ref = &[2]int{r.x0 + r.ref[0] - b.x0, r.y0 + r.ref[1] - b.y0}
	return b
}

// split is the layout of a small 2D picture above a strip.
func (l lens) split() (upper region, stripTop int) {
	edge := captionRows + (l.rows-captionRows)*2/5
	return region2D(2, captionRows, l.columns-3, edge, l.depthCM, l.aspect, dataTissue), edge + 3
}

// pictureMMode draws a scene with the line at x cm and, below, what moves on it.
func pictureMMode(l lens, s scene, x float64, w walls, seconds float64) *picture {
	upper, top := l.split()
	strip := regionMMode(2, top, l.columns-3, l.rows-3, seconds, upper.depthCM())
	p := l.blank(false, upper, strip)
	c := l.begin()
	draw2D(c, field2D(upper, l.probe, l.seed), s, 0, nil)
	ruler(c, upper, l.ruler)
	l.beamLine(c, upper, x)
	drawMMode(c, strip, w, l.rate, l.seed)
	p.frames = []canvas{c}
	return p
}

// doppler is how a spectrum is taken.
type doppler struct {
	env             envelope
	low, high, step float64
	seconds         float64
	dataType        int
	gateX, gateY    float64
	angleDeg        float64
	frequencyKHz    int
	colour          *[4]float64
}

// pictureSpectral draws a scene with the sample volume and, below, the spectrum.
func pictureSpectral(l lens, s scene, d doppler) *picture {
	upper, top := l.split()
	strip := regionSpectral(2, top, l.columns-3, l.rows-3, d.seconds, d.low, d.high, d.dataType)
	strip.pulse(d.angleDeg, d.frequencyKHz)
	p := l.blank(d.colour != nil, upper, strip)
	var box *region
	if d.colour != nil {
		b := colourBox(upper, *d.colour)
		box = &b
		p.regions = append(p.regions, b)
	}
	c := l.begin()
	draw2D(c, field2D(upper, l.probe, l.seed), s, 0.2, box)
	ruler(c, upper, l.ruler)
	l.beamLine(c, upper, d.gateX)
	gate := upper.at(d.gateX, d.gateY)
	c.bar(int(gate.X)-2, int(gate.Y)-2, int(gate.X)+2, int(gate.Y)-2, 0.9)
	c.bar(int(gate.X)-2, int(gate.Y)+2, int(gate.X)+2, int(gate.Y)+2, 0.9)
	drawSpectral(c, strip, d.env, l.rate, d.step, l.seed)
	p.frames = []canvas{c}
	return p
}

func (l lens) blank(colour bool, regions ...region) *picture {
	for i := range regions {
		if regions[i].frequencyKHz == 0 {
			regions[i].frequencyKHz = 8000
		}
	}
	return &picture{columns: l.columns, rows: l.rows, colour: colour, regions: regions, marks: map[string]mark{}}
}

func (l lens) begin() canvas {
	c := newCanvas(l.columns, l.rows)
	c.caption(3, 0, l.caption)
	return c
}

// beamLine dots the line that a strip is taken from.
func (l lens) beamLine(c canvas, r region, x float64) {
	_, depth := r.physical(r.corner())
	for y := 0.0; y < depth; y += 3 * r.deltaY {
		at := r.at(x*(0.3+0.7*y/depth), y)
		c.grey(int(at.X), int(at.Y), 0.8)
	}
}

// mark names a caliper by physical places in a region: pairs of values in the
// region's units. Points are moved to half pixels.
func (p *picture) mark(name string, regionIndex int, geometry ingest.Geometry, frame int, places ...float64) {
	m := mark{region: regionIndex, frame: frame, geometry: geometry}
	for i := 0; i+1 < len(places); i += 2 {
		m.points = append(m.points, snap(p.regions[regionIndex].at(places[i], places[i+1])))
	}
	p.marks[name] = m
}

// line2D, lineStrip and pointStrip are the marks used most. Strips are the second
// region of a picture.
func (p *picture) line2D(name string, frame int, x0, y0, x1, y1 float64) {
	p.mark(name, 0, ingest.GeometryLine, frame, x0, y0, x1, y1)
}

func (p *picture) lineStrip(name string, t0, y0, t1, y1 float64) {
	p.mark(name, 1, ingest.GeometryLine, 1, t0, y0, t1, y1)
}

func (p *picture) pointStrip(name string, t, y float64) {
	p.mark(name, 1, ingest.GeometryPoint, 1, t, y)
}

// moment is the time in a strip at which a phase falls, beats before the newest.
func (l lens) moment(phase float64, beats int) float64 {
	return (phase - 1 - float64(beats)) / l.rate
}
