package demo

import (
	"fmt"
	"math/rand/v2"
	"time"
)

// study is one study being made up: pictures, reports, and the truth about them.
type study struct {
	ordinal         int
	kind            kind
	uid, id, number string
	start           time.Time
	patient         patient
	operator        string
	device          *device
	lens            lens
	anatomy         anatomy
	rng             *rand.Rand
	small           bool

	images  []*object
	reports []*report
	states  []*state
	// calipers are rows of the caliper table.
	calipers []caliperRow
	// copies are files beside those of the objects: duplicates and broken ones.
	copies []copyOf
	// medium, where set, is the directory that lies beside the files.
	medium *medium
	// split puts the later half of the files into another folder.
	split bool

	truth []truthRow
	// items are how the study stands against the protocol of its kind.
	protocol string
	items    []standing
	// labels are rows of the study table, labelCells what is written of them.
	labels     []labelRow
	labelCells [][]string
}

// kind is what a study is of.
type kind string

const (
	heart   kind = "heart"
	lung    kind = "lung"
	head    kind = "head"
	vessels kind = "vessels"
)

// about is what the headers of a kind say.
type about struct {
	description, bodyPart, imageType, protocol string
	procedure                                  *code
}

var abouts = map[kind]about{
	heart:   {"Functional newborn heart study", "HEART", "TTE", "Newborn heart", &pediatricEcho},
	lung:    {"Lung ultrasound, six zones", "LUNG", "CHEST", "Newborn lung", nil},
	head:    {"Head ultrasound, newborn", "HEAD", "NEONATAL HEAD", "Newborn head", nil},
	vessels: {"Abdominal vessels, Doppler", "ABDOMEN", "VASCULAR", "Newborn abdomen", nil},
}

// object is one image instance.
type object struct {
	study *study
	uid   string
	// instance is Instance Number, at when it was taken.
	instance int
	at       time.Time
	pic      *picture
	view     view
	// mode is Image Type value 4.
	mode string
	// frames are stored, frameTimeMS apart; a still has one.
	frames      int
	frameTimeMS float64
	cineRate    int
	heartRate   int
	laterality  string
	syntax      string
	mi, ti      float64
	depthMM     int
	burnedIn    string
	path        string

	// What defects change: the scale and the frame timing left out, a Pixel Spacing
	// beside the regions, other elements, another patient, and the bytes of the file.
	noRegions, noTiming bool
	// made is how long after the picture its file is made.
	made      time.Duration
	spacingMM *[2]float64
	edit      func(*dataSet)
	patient   *patient
	mangle    func(file []byte) []byte
}

func (o *object) clip() bool { return o.frames > 1 }

func (o *object) sopClass() string {
	if o.clip() {
		return "1.2.840.10008.5.1.4.1.1.3.1"
	}
	return ultrasoundStill
}

// add puts a picture into the study: a still, or a clip of at least so many seconds.
func (s *study) add(p *picture, v view, mode string, seconds float64) *object {
	o := &object{
		study: s, pic: p, view: v, mode: mode, frames: 1, burnedIn: "NO",
		instance: len(s.images) + 1,
		mi:       0.4 + float64(s.rng.IntN(5))/10, ti: 0.1 + float64(s.rng.IntN(6))/10,
		depthMM: int(p.regions[0].depthCM()*10 + 0.5), heartRate: int(60*s.lens.rate + 0.5),
	}
	o.made = time.Duration(2+o.instance%3) * time.Second
	o.uid = hashUID(s.uid, "image", fmt.Sprint(o.instance))
	o.at = s.start.Add(time.Duration(o.instance-1)*41*time.Second + time.Duration(s.rng.IntN(20))*time.Second)
	turns := s.device.stills
	if seconds > 0 {
		turns = s.device.clips
		o.frameTimeMS = s.device.frameTimeMS
		o.frames = int(1000*seconds/o.frameTimeMS+0.999) + 1
		o.cineRate = int(1000/o.frameTimeMS + 0.5)
	}
	o.syntax = turns[(s.ordinal+o.instance)%len(turns)]
	// Uncompressed colour is large: most studies keep it as JPEG.
	if p.colour && s.ordinal%6 != 3 {
		o.syntax = jpegBaseline
	}
	s.images = append(s.images, o)
	return o
}

// last is when the last picture was taken.
func (s *study) last() time.Time { return s.images[len(s.images)-1].at }

// find is the image with a mark.
func (s *study) find(name string) *object {
	for _, o := range s.images {
		if _, ok := o.pic.marks[name]; ok {
			return o
		}
	}
	panic("demo: no picture of study kind " + string(s.kind) + " has the mark " + name)
}

// byView is the first image of a view and mode.
func (s *study) byView(name, mode string) *object {
	for _, o := range s.images {
		if o.view.name == name && o.mode == mode {
			return o
		}
	}
	panic("demo: no picture of the view " + name + " in mode " + mode)
}

func (s *study) describe() about { return abouts[s.kind] }

// truthRow is one row of truth.csv.
type truthRow struct{ study, sop, path, finding, verdict, item, what string }

// inPicture stands for the path of a truthRow that is found only by looking at pictures.
const inPicture = "--pixels"

// expectInPicture adds what an audit must say of an object where it looks at pictures.
func (s *study) expectInPicture(sop, finding, what string) {
	s.truth = append(s.truth, truthRow{study: s.uid, sop: sop, path: inPicture, finding: finding, what: what})
}

// expect adds what an audit must say of an object of the study.
func (s *study) expect(sop, finding, verdict, item, what string) {
	s.truth = append(s.truth, truthRow{s.uid, sop, "", finding, verdict, item, what})
}
