package demo

import (
	"fmt"
	"math"
	"math/rand/v2"
	"time"
)

// The fleet: twelve hand-helds of four models over a year and a half, stills without
// pixels, whose scales go wrong in the ways that truth-fleet.csv names. Everything is
// invented; no model stands for a real one.

// fleetMonths is how long the fleet is followed, fleetPictures how many stills a
// device makes a month, fleetUnits how many devices of a model there are.
const (
	fleetMonths   = 18
	fleetPictures = 8
	fleetUnits    = 3
	// perStudy is how many stills of a month are of one study.
	perStudy = 4
)

var fleetStart = time.Date(2025, time.April, 1, 0, 0, 0, 0, time.UTC)

// fleetModel is how the devices of one model draw: the size of a picture, the region in
// it, the rows of it that are picture and no margin, and how they write their scale.
type fleetModel struct {
	name, transducer, kind string
	columns, rows          int
	box                    [4]int
	// wide is the region of the second layout, of the same height.
	wide        [4]int
	rows2D, top int
	depthsMM    []int
	exams       []string
	// digits after the point of a delta in cm; 0 writes single precision, -1 all that
	// there are with a little noise.
	digits         int
	before, update string
	// zero tells that the model writes a reference pixel.
	zero bool
}

var fleetModels = []fleetModel{
	{name: "Tern 2", transducer: "P8-3", kind: "SECTOR_PHASED", columns: 640, rows: 480, box: [4]int{40, 20, 599, 459}, wide: [4]int{10, 20, 629, 459}, rows2D: 420, top: 10,
		depthsMM: []int{40, 50, 60, 80}, exams: []string{"NEO HEART", "NEO LUNG"}, digits: 6, before: "3.2.1", update: "3.3.0", zero: true},
	{name: "Tern 4", transducer: "C9-2", kind: "CURVED LINEAR", columns: 800, rows: 600, box: [4]int{60, 40, 739, 579}, wide: [4]int{20, 40, 779, 579}, rows2D: 540, top: 0,
		depthsMM: []int{50, 70, 90, 110}, exams: []string{"NEO HEAD", "NEO ABDOMEN"}, digits: 0, before: "4.0.0", update: "4.1.2", zero: true},
	{name: "Petrel L", transducer: "L15-6", kind: "LINEAR", columns: 512, rows: 416, box: [4]int{30, 12, 481, 403}, wide: [4]int{4, 12, 507, 403}, rows2D: 380, top: 4,
		depthsMM: []int{20, 30, 40, 50}, exams: []string{"LUNG", "LINE"}, digits: 4, before: "1.9", update: "2.0", zero: false},
	{name: "Petrel S", transducer: "P12-4", kind: "SECTOR_PHASED", columns: 720, rows: 540, box: [4]int{50, 30, 669, 519}, wide: [4]int{50, 30, 669, 519}, rows2D: 470, top: 12,
		depthsMM: []int{40, 60, 70, 90}, exams: []string{"NEO HEART"}, digits: -1, before: "1.4", update: "1.5", zero: true},
}

// fleetUnit is one device of the fleet.
type fleetUnit struct {
	ordinal, model int
	serial         string
	// updated is the first day of the newer software.
	updated time.Time
	fault   fleetFault
}

// fleetStill is one picture as its header tells it.
type fleetStill struct {
	unit       *fleetUnit
	model      *fleetModel
	software   string
	at         time.Time
	study      string
	number     int
	exam       string
	depthMM    int
	columns    int
	rows       int
	box        [4]int
	deltaX     float64 // cm
	deltaY     float64
	referenceY *int
	referenceV float64
	calibrated bool
	syntax     string
	by         program
	derived    bool
}

func (s *fleetStill) uid() string { return hashUID(s.study, "still", fmt.Sprint(s.number)) }

// fleetOf draws the fleet of a seed, device by device in the order of time.
func fleetOf(seed int64) ([]*fleetUnit, []*fleetStill) {
	rng := rand.New(rand.NewPCG(uint64(seed), 0xF1EE7))
	units := fleetDevices(rng)
	var stills []*fleetStill
	for _, u := range units {
		stills = append(stills, u.year(seed, rand.New(rand.NewPCG(uint64(seed), uint64(u.ordinal)+0xF1EE8)))...)
	}
	return units, stills
}

func fleetDevices(rng *rand.Rand) []*fleetUnit {
	var units []*fleetUnit
	for m := range fleetModels {
		for range fleetUnits {
			n := len(units)
			units = append(units, &fleetUnit{
				ordinal: n, model: m, serial: fmt.Sprintf("OV%d-%05d", m+5, 2101+37*n),
				updated: fleetStart.AddDate(0, 5+rng.IntN(8), rng.IntN(28)),
			})
		}
	}
	plantFleet(units, rng)
	return units
}

// year draws what a device makes in the time of the fleet.
func (u *fleetUnit) year(seed int64, rng *rand.Rand) []*fleetStill {
	var stills []*fleetStill
	for month := range fleetMonths {
		for k := range fleetPictures {
			visit := k / perStudy
			at := fleetStart.AddDate(0, month, 4+13*visit+u.ordinal%9).Add(time.Duration(8*60+45*visit+3*k) * time.Minute)
			s := u.still(at, rng)
			s.study = hashUID("fleet", fmt.Sprint(seed), u.serial, fmt.Sprint(month), fmt.Sprint(visit))
			s.number = k%perStudy + 1
			stills = append(stills, s)
		}
	}
	return stills
}

// still draws one picture, and lets the fault of its device at it.
func (u *fleetUnit) still(at time.Time, rng *rand.Rand) *fleetStill {
	m := &fleetModels[u.model]
	s := &fleetStill{unit: u, software: m.before, at: at, calibrated: rng.Float64() > 0.04}
	if !at.Before(u.updated) {
		s.software = m.update
	}
	s.syntax = []string{explicitLE, implicitLE}[rng.IntN(2)]
	s.by = program{"OV_" + s.software, "OVS" + u.serial[4:]}
	s.draw(m, rng)
	if u.fault.spoil != nil {
		u.fault.spoil(s, rng)
	}
	return s
}

// draw sets region and scale the way a model does.
func (s *fleetStill) draw(m *fleetModel, rng *rand.Rand) {
	s.model = m
	s.columns, s.rows, s.box = m.columns, m.rows, m.box
	if rng.IntN(4) == 0 {
		s.box = m.wide
	}
	s.depthMM = m.depthsMM[rng.IntN(len(m.depthsMM))]
	s.exam = m.exams[rng.IntN(len(m.exams))]
	delta := float64(s.depthMM) / 10 / float64(m.rows2D)
	if m.digits < 0 {
		delta *= 1 + 2e-5*(2*rng.Float64()-1)
	}
	top := m.top
	s.referenceV = 0
	if m.zero && rng.IntN(25) == 0 {
		// An enlarged part: half of the depth, from a quarter of it on.
		delta /= 2
		s.referenceV = float64(s.depthMM) / 40
	}
	if m.zero {
		s.referenceY = &top
	}
	s.scale(delta)
}

// scale writes a delta to the digits of the model; pixels are square.
func (s *fleetStill) scale(delta float64) {
	switch digits := s.model.digits; {
	case digits > 0:
		unit := math.Pow10(digits)
		delta = math.Round(delta*unit) / unit
	case digits == 0:
		delta = float64(float32(delta))
	}
	s.deltaX, s.deltaY = delta, delta
}
