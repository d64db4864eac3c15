package demo

import (
	"fmt"
	"math"
	"math/rand/v2"
	"time"

	"leadline/ingest"
	"leadline/ingest/coord"
)

// The test object: an invented block of gel with pins at known distances, scanned
// every month. Everything a device gets wrong here is wrong in the picture itself; its
// headers agree with each other, so that only the test object can tell.

// gel is the kind of study that a scan of the test object is.
const gel kind = "test object"

// The block: its speed of sound at 22 °C, how it changes, and what devices reckon with.
const (
	gelSpeed, gelDegrees, gelPerDegree = 1500.0, 22.0, 1.5
	assumedSpeed                       = 1540.0
)

// pins are a target: two pins at x, y in cm in the block.
type pins struct {
	id, title, direction string
	distanceMM           float64
	from, to             [2]float64
}

var gelTargets = []pins{
	{"column-80", "Column of pins, 80 mm", "axial", 80, [2]float64{0, 1}, [2]float64{0, 9}},
	{"column-20", "Column of pins, 20 mm", "axial", 20, [2]float64{0, 3}, [2]float64{0, 5}},
	{"row-40", "Row of pins, 40 mm", "lateral", 40, [2]float64{-2, 5}, [2]float64{2, 5}},
}

// The tests: one a month, each target measured so often, each end of a caliper set
// with this standard deviation.
const (
	gelMonths   = 18
	gelRepeats  = 5
	gelPlacedCM = 0.02
	// gelBaseline is how many months the baseline has; what drifts begins behind it.
	gelBaseline = 8
)

var gelStart = time.Date(2025, time.January, 1, 0, 0, 0, 0, time.UTC)

// gelDevice is one device with what is wrong with it.
type gelDevice struct {
	// base is the device of the demo archive whose kind it is.
	base           int
	serial         string
	along, across  float64 // relative errors of its pictures
	driftAlong     float64 // relative error for every month behind the baseline
	months         int     // tests, from the first month on
	withoutCaliper bool
	updatedFrom    int // month from which it has another software, 0 for never
	// failing and signalled are the targets that fail in the newest test, and those
	// whose charts must signal.
	failing, signalled []string
	overdue            bool
	what               string
}

var gelDevices = []gelDevice{
	{base: 0, serial: "OV2-00611", months: gelMonths, what: "sound"},
	{base: 2, serial: "OV4-01201", months: gelMonths, updatedFrom: 12, what: "sound; new software in the thirteenth month changes nothing"},
	{base: 3, serial: "OPL-0201", months: gelMonths, withoutCaliper: true, what: "sound; sends numbers without calipers"},
	{base: 3, serial: "OPL-0202", months: gelMonths, along: 0.03, failing: []string{"column-80"}, what: "depths are 3 % too long"},
	{base: 3, serial: "OPL-0203", months: gelMonths, across: -0.08, failing: []string{"row-40"}, what: "distances across the beam are 8 % too short"},
	{base: 3, serial: "OPL-0204", months: gelMonths, driftAlong: 0.0035, failing: []string{"column-80"}, signalled: []string{"column-80", "column-20"}, what: "depths grow by 0.35 % a month from the ninth month on"},
	{base: 3, serial: "OPL-0205", months: gelMonths, driftAlong: 0.0009, signalled: []string{"column-80"}, what: "depths grow by 0.09 % a month from the ninth month on, and stay within the tolerance"},
	{base: 0, serial: "OV2-00613", months: gelMonths - 4, overdue: true, what: "sound; the last four tests were left out"},
}

// neverTested is the device of the demo archive that has a study of a patient and no
// test.
const neverTested = 4

// device is the device in a month.
func (g *gelDevice) device(month int) *device {
	d := devices[g.base]
	d.serial, d.root, d.bare = g.serial, "scans/"+g.serial, false
	d.station = "PHYSICS"
	d.stillColumns, d.stillRows = 200, 240
	d.stills, d.reports = []string{rleLossless}, []string{explicitLE}
	if g.updatedFrom > 0 && month >= g.updatedFrom {
		d.software += ".1"
	}
	return &d
}

// shown is where a device shows a pin: echoes come by time of flight, which it turns
// into depth with the speed it reckons with. Of a curved or phased array what lies
// aside moves along its beam; in a linear one the elements hold their distance.
func (g *gelDevice) shown(at [2]float64, month int, speed float64) [2]float64 {
	stretch := assumedSpeed / speed * (1 + g.along + g.driftAlong*float64(max(0, month-gelBaseline)))
	p := devices[g.base].probe
	x, y := at[0]*(1+g.across), at[1]
	if p.linear {
		return [2]float64{x, y * stretch}
	}
	r, angle := math.Hypot(x, y+p.faceCM), math.Atan2(x, y+p.faceCM)
	r = p.faceCM + (r-p.faceCM)*stretch
	return [2]float64{r * math.Sin(angle), r*math.Cos(angle) - p.faceCM}
}

// scan makes the study of one test.
func (g *gelDevice) scan(seed int64, ordinal, month int, day time.Time, speed float64, blank bool) *study {
	rng := rand.New(rand.NewPCG(uint64(seed), uint64(ordinal)+0x6E1))
	s := &study{
		ordinal: ordinal, kind: gel, device: g.device(month), rng: rng, patient: gelBlock,
		uid: hashUID("test object", fmt.Sprint(seed), fmt.Sprint(ordinal)),
		id:  fmt.Sprintf("T%05d", ordinal+1), number: fmt.Sprintf("T26-%06d", ordinal+1),
		start: day.Add(8 * time.Hour), operator: operators[0],
	}
	s.look(10, 1)
	l := s.still()
	l.caption = "TEST OBJECT"
	o := s.add(g.picture(l, month, speed, blank), view{}, bits2D, 0)
	o.mi, o.ti = 0.4, 0.1
	sec := s.report(10*time.Minute, templateMeasurements).section(code{"TB", "99NHV", "Test block"})
	for _, t := range gelTargets {
		for range gelRepeats {
			sec.numbers = append(sec.numbers, g.measure(o, t, month, speed))
		}
	}
	return s
}

// picture draws the pins where the device shows them.
func (g *gelDevice) picture(l lens, month int, speed float64, blank bool) *picture {
	if blank {
		p := l.blank(false, region2D(2, captionRows, l.columns-3, l.rows-3, l.depthCM, l.aspect, dataTissue))
		p.frames = []canvas{l.begin()}
		return p
	}
	block := scene{base: 0.25}
	for _, t := range gelTargets {
		for _, pin := range [][2]float64{t.from, t.to} {
			at := g.shown(pin, month, speed)
			block.shapes = append(block.shapes, shape{dist: ellipse(at[0], at[1], 0.08, 0.08, 0, 0), level: 1})
		}
	}
	return picture2D(l, block, nil)
}

// measure sets a caliper on both pins of a target.
func (g *gelDevice) measure(o *object, t pins, month int, speed float64) *number {
	r, rng := o.pic.regions[0], o.study.rng
	place := func(pin [2]float64) coord.Point {
		at := g.shown(pin, month, speed)
		return snap(r.at(at[0]+gelPlacedCM*rng.NormFloat64(), at[1]+gelPlacedCM*rng.NormFloat64()))
	}
	points := []coord.Point{place(t.from), place(t.to)}
	n := &number{
		concept: code{t.id, "99NHV", t.title}, unit: unitMM, text: fmt.Sprintf("%.1f", r.distanceMM(points)),
		geometry: ingest.GeometryLine, points: points, image: o, imageClass: o.sopClass(), imageUID: o.uid,
	}
	if g.withoutCaliper {
		n.points, n.image, n.imageUID = nil, nil, ""
	}
	return n
}

// gelBlock stands in the place of a patient.
var gelBlock = patient{surname: "TEST OBJECT", id: "NHV-BLOCK-1"}
