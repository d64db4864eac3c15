package demo

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"leadline/ingest/coord"
)

// Numbers and calipers that go wrong.

// differ changes the printed value of a mark by a factor.
func (s *study) differ(name string, factor float64, what string) *number {
	n := s.num(name)
	v, _ := strconv.ParseFloat(n.text, 64)
	_, places, _ := strings.Cut(n.text, ".")
	n.text = fmt.Sprintf("%.*f", len(places), v*factor)
	s.expect(n.imageUID, "measurement-differs", "differs", n.concept.meaning, what)
	return n
}

func valueOff(s *study) {
	s.differ("sma-peak-systolic-velocity", 1.1, "the reported value is 10 % above its caliper")
}

func unitMixed(s *study) {
	n := s.differ("corpus-callosum-length", 1, "millimetres are reported as centimetres")
	n.unit = unitCM
}

// on lists the numbers whose caliper lies on an image.
func (s *study) on(o *object) []*number {
	var list []*number
	for _, r := range s.reports {
		for _, sec := range r.sections {
			for _, n := range sec.numbers {
				if n.image == o {
					n.points = slices.Clone(n.points)
					list = append(list, n)
				}
			}
		}
	}
	return list
}

// again repeats the number of a mark with another caliper.
func (s *study) again(name string, change func(*number)) *number {
	base := s.num(name)
	n := *base
	n.points = slices.Clone(base.points)
	change(&n)
	for _, sec := range s.reports[0].sections {
		if slices.Contains(sec.numbers, base) {
			sec.numbers = append(sec.numbers, &n)
		}
	}
	return &n
}

func imageMissing(s *study) {
	n := s.again("vessel-diameter", func(n *number) {
		n.image, n.imageUID = nil, hashUID(s.uid, "image that was not exported")
	})
	s.expect(n.imageUID, "image-not-found", "not-rebuilt", n.concept.meaning, "the picture it was measured on was not exported")
}

func acrossRegions(s *study) {
	n := s.again("rv-basal-diameter", func(n *number) {
		o := s.find("tapse")
		n.image, n.imageUID, n.imageClass, n.frame = o, o.uid, o.sopClass(), 0
		upper, strip := o.pic.regions[0], o.pic.regions[1]
		n.points = []coord.Point{centre(upper.x1/2, upper.y0+10), centre(strip.x1/2, strip.y0+30)}
	})
	s.expect(n.imageUID, "caliper-across-regions", "not-rebuilt", n.concept.meaning, "the line runs from the picture into the strip")
}

func caliperOutside(s *study) {
	n := s.again("rv-basal-diameter", func(n *number) {
		for i := range n.points {
			n.points[i].X += float64(n.image.pic.columns)
		}
	})
	s.expect(n.imageUID, "caliper-outside-image", "not-rebuilt", n.concept.meaning, "the line lies right of the picture")
}

func unitOneLength(s *study) {
	n := s.num("anterior-horn-width")
	n.unit = unitOne
	s.expect(n.imageUID, "unit-does-not-fit", "not-rebuilt", n.concept.meaning, "a length without unit")
}

func noValue(s *study) {
	n := s.num("vessel-diameter")
	n.text = ""
	s.expect(n.imageUID, "value-missing", "rebuilt-only", n.concept.meaning, "the number holds no value")
}

func noExtent(s *study) {
	n := s.again("vessel-diameter", func(n *number) { n.points[1] = n.points[0] })
	s.expect(n.imageUID, "caliper-degenerate", "not-rebuilt", n.concept.meaning, "both ends of the line are one point")
}

// tableOff adds caliper table rows: one that differs, one without a value.
func tableOff(s *study) {
	long := s.find("left-atrium-diameter")
	s.tabulate(long, "left-atrium-diameter", "LA", true)
	s.tabulate(long, "aortic-root-diameter", "Ao root", false)
	row := &s.calipers[len(s.calipers)-2]
	v, _ := strconv.ParseFloat(row.value, 64)
	row.value = fmt.Sprintf("%.1f", v*0.8)
	s.truth = append(s.truth, truthRow{s.uid, long.uid, caliperTable, "measurement-differs", "differs", row.label, "the value of the table is a fifth below its caliper"})
}
