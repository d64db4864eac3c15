package demo

import (
	"time"

	"leadline/ingest"
	"leadline/ingest/coord"
)

// SOP classes of reports (PS3.4 B.5). Comprehensive SR alone may refer to items of
// its own tree (PS3.3 A.35.3).
const (
	enhancedSR      = "1.2.840.10008.5.1.4.1.1.88.22"
	comprehensiveSR = "1.2.840.10008.5.1.4.1.1.88.33"
)

// report is one structured report.
type report struct {
	study    *study
	uid      string
	sopClass string
	title    code
	template string
	at       time.Time
	// state is COMPLETE or PARTIAL; verified adds a verifying observer.
	state    string
	verified bool
	// byReference lets graphics point into the image library instead of repeating
	// the image.
	byReference bool
	sections    []*section
	syntax      string
	path        string
}

// section is one group of numbers with the finding site they share.
type section struct {
	site    code
	numbers []*number
}

// number is one NUM item.
type number struct {
	concept, unit code
	// text is the value; empty writes no value.
	text      string
	modifiers []modifier
	// imageView, where set, is stated of the image that the number was taken from.
	imageView code
	// geometry and points are its caliper; none makes it a number alone.
	geometry ingest.Geometry
	points   []coord.Point
	frame    int
	// also is the second plane of a volume of two, of which only the caliper counts.
	also *number
	// image is where the caliper lies.
	image                *object
	imageClass, imageUID string
}

// take measures a mark of an image as the device would and puts it into the section.
func (sec *section) take(o *object, names ...string) *section {
	for _, name := range names {
		sec.numbers = append(sec.numbers, o.number(name))
	}
	return sec
}

// number measures a mark.
func (o *object) number(name string) *number {
	m, k := measures[name], o.pic.marks[name]
	n := &number{
		concept: m.concept, unit: m.unit, modifiers: m.modifiers,
		text:     m.text(o.pic.regions[k.region], k),
		geometry: k.geometry, points: k.points, image: o, imageClass: o.sopClass(), imageUID: o.uid,
	}
	if o.clip() {
		n.frame = k.frame
	}
	return n
}

// alone adds a number without a caliper, which an audit can only repeat.
func (s *study) alone(sec *section, concept, unit code, text string, modifiers ...modifier) {
	sec.numbers = append(sec.numbers, &number{concept: concept, unit: unit, text: text, modifiers: modifiers})
	s.expect("", "", "reported-only", concept.meaning, "a number without a caliper")
}

// num finds the number of a mark in a report of the study.
func (s *study) num(name string) *number {
	want := measures[name]
	for _, r := range s.reports {
		for _, sec := range r.sections {
			for _, n := range sec.numbers {
				if n.concept == want.concept && n.image != nil && len(n.modifiers) == len(want.modifiers) && (len(n.modifiers) == 0 || n.modifiers[0] == want.modifiers[0]) {
					return n
				}
			}
		}
	}
	panic("demo: no report number for the mark " + name)
}
