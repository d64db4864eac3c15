package demo

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/suyashkumar/dicom/pkg/tag"

	"leadline/ingest/coord"
)

// defect is one thing that goes wrong in archives, planted into a study of its
// kind. plant changes the study and says, by expect, what an audit must find.
type defect struct {
	name  string
	kind  kind
	plant func(*study)
}

// defectList is in the order in which a generated archive goes through them.
var defectList = []defect{
	{"value-off", vessels, valueOff},
	{"missing-view", heart, missingView},
	{"resampled", head, resampled},
	{"no-timing", lung, noTiming},
	{"unit-mixed", head, unitMixed},
	{"clip-short", heart, clipShort},
	{"calibration-stripped", vessels, calibrationStripped},
	{"cine-contradicts", lung, cineContradicts},
	{"spacing-off", vessels, spacingOff},
	{"missing-measure", heart, missingMeasure},
	{"regions-overlap", head, regionsOverlap},
	{"weight-grams", lung, weightGrams},
	{"spectrum-up", vessels, spectrumUp},
	{"report-partial", heart, reportPartial},
	{"no-zero", head, noZero},
	{"burned-in-only", lung, burnedInOnly},
	{"image-missing", vessels, imageMissing},
	{"across-regions", heart, acrossRegions},
	{"unit-one", head, unitOneLength},
	{"pixels-cut", lung, pixelsCut},
	{"no-value", vessels, noValue},
	{"report-late", heart, reportLate},
	{"two-patients", head, twoPatients},
	{"header-cut", lung, headerCut},
	{"no-extent", vessels, noExtent},
	{"caliper-outside", heart, caliperOutside},
	{"bound-exclusive", vessels, boundExclusive},
	{"header-comma", lung, headerComma},
	{"region-unscaled", lung, regionUnscaled},
	{"copy", lung, duplicate},
	{"clash", head, clash},
	{"table-off", heart, tableOff},
}

var defects = func() map[string]defect {
	byName := map[string]defect{}
	for _, d := range defectList {
		byName[d.name] = d
	}
	return byName
}()

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

func missingView(s *study) {
	gone := s.byView(viewDuct.name, bits2D)
	s.images = slices.DeleteFunc(s.images, func(o *object) bool { return o == gone })
	s.shortfall("item-missing", "duct-clip", "the greyscale clip of the duct was not taken")
}

func (s *study) shortfall(finding, item, what string) { s.expect("", finding, "", item, what) }

func clipShort(s *study) {
	s.byView(viewFourChamber.name, bits2D).frames = 6
	s.shortfall("item-partial", "apical-four-chamber-clip", "the clip lasts less than a second")
}

func missingMeasure(s *study) {
	gone := s.num("tapse")
	for _, sec := range s.reports[0].sections {
		sec.numbers = slices.DeleteFunc(sec.numbers, func(n *number) bool { return n == gone })
	}
	s.shortfall("item-missing", "tapse", "the excursion was not measured")
}

func reportPartial(s *study) {
	s.reports[0].state, s.reports[0].verified = "PARTIAL", false
	s.shortfall("item-partial", "report-complete", "the report is only partial")
	s.shortfall("item-partial", "report-in-time", "no complete report stands within a day")
}

func reportLate(s *study) {
	s.reports[0].at = s.last().Add(31 * time.Hour)
	s.shortfall("item-partial", "report-in-time", "the report came after 31 hours")
}

// resampled halves a picture and leaves its calibration as it was. The calipers
// were set on the small picture, the values are those of the large one.
func resampled(s *study) {
	o := s.find("ventricular-index-left")
	p := o.pic
	for i, c := range p.frames {
		p.frames[i] = c.half()
	}
	p.columns, p.rows = p.columns/2, p.rows/2
	s.expect(o.uid, "region-outside-image", "", "", "the picture was scaled to half its size after it was calibrated")
	for _, n := range s.on(o) {
		for i, at := range n.points {
			n.points[i] = coord.Point{X: at.X / 2, Y: at.Y / 2}
		}
		s.expect(o.uid, "", "suspect", n.concept.meaning, "measured on the resampled picture")
	}
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

func calibrationStripped(s *study) {
	o := s.find("vessel-diameter")
	o.noRegions = true
	s.expect(o.uid, "calibration-missing", "", "", "the export left the regions out")
	for _, n := range s.on(o) {
		s.expect(o.uid, "caliper-uncalibrated", "not-rebuilt", n.concept.meaning, "measured on a picture without scale")
	}
}

func spacingOff(s *study) {
	o := s.find("vessel-diameter")
	r := o.pic.regions[0]
	o.spacingMM = &[2]float64{r.deltaY * 10 * 1.04, r.deltaX * 10 * 1.04}
	s.expect(o.uid, "spacing-disagrees", "", "", "Pixel Spacing is 4 % above the scale of the region")
}

// regionsOverlap adds a second 2D region over the first with another scale.
func regionsOverlap(s *study) {
	o := s.find("corpus-callosum-length")
	other := o.pic.regions[0]
	other.deltaX *= 1.2
	other.deltaY *= 1.2
	o.pic.regions = append(o.pic.regions, other)
	s.expect(o.uid, "regions-disagree", "", "", "two regions over one picture differ by a fifth")
	for _, n := range s.on(o) {
		s.expect(o.uid, "caliper-ambiguous", "not-rebuilt", n.concept.meaning, "two scales claim the caliper")
	}
}

// spectrumUp gives a spectrum the increment of a depth: positive downwards.
func spectrumUp(s *study) {
	o := s.find("sma-peak-systolic-velocity")
	o.pic.regions[1].deltaY *= -1
	s.expect(o.uid, "spectral-sign", "", "", "the increment of the velocity axis is positive")
}

func noZero(s *study) {
	o := s.find("aca-peak-systolic-velocity")
	o.pic.regions[1].ref = nil
	for _, n := range s.on(o) {
		s.expect(o.uid, "zero-unknown", "not-rebuilt", n.concept.meaning, "the spectrum has no reference pixel")
	}
}

func noTiming(s *study) {
	o := s.images[2]
	o.noTiming = true
	s.expect(o.uid, "frame-timing-missing", "", "", "the clip says nothing of its frame rate")
}

func cineContradicts(s *study) {
	o := s.images[1]
	o.cineRate *= 2
	s.expect(o.uid, "frame-timing-contradicts", "", "", "Cine Rate is twice what Frame Time says")
}

func weightGrams(s *study) {
	s.patient.weightKg *= 1000
	s.expect("", "weight-implausible", "", "", "the weight is in grams")
}

// burnedInOnly leaves no measurement but the one in the picture.
func burnedInOnly(s *study) {
	s.reports = nil
	o := s.find("diaphragm-excursion")
	k := o.pic.marks["diaphragm-excursion"]
	text := measures["diaphragm-excursion"].text(o.pic.regions[k.region], k)
	for _, c := range o.pic.frames {
		for i := range k.points {
			c.bar(int(k.points[i].X)-3, int(k.points[i].Y), int(k.points[i].X)+3, int(k.points[i].Y), 1)
		}
		c.caption(o.pic.columns-60, o.pic.rows-18, "D "+text+"mm")
	}
	o.burnedIn = "YES"
	s.expect("", "burned-in-measurements", "", "", "the excursion stands only in the picture")
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

func twoPatients(s *study) {
	other := s.patient
	other.surname, other.id = surnames[(s.ordinal+11)%len(surnames)], s.patient.id+"X"
	s.images[len(s.images)-1].patient = &other
	s.expect("", "study-mixed-patients", "", "", "one picture belongs to another patient")
}

func boundExclusive(s *study) {
	o := s.find("vessel-diameter")
	o.pic.regions[0].x1 = o.pic.columns
	s.expect(o.uid, "region-bound-exclusive", "", "", "the right bound is the first column outside")
}

// headerComma writes a decimal comma, which DS does not allow (PS3.5 6.2).
func headerComma(s *study) {
	o := s.images[0]
	o.edit = func(d *dataSet) { d.text(tag.MechanicalIndex, strings.Replace(decimalString(o.mi), ".", ",", 1)) }
	s.expect(o.uid, "header-value-unreadable", "", "", "the mechanical index has a decimal comma")
}

// regionUnscaled gives the strip a time axis without an increment.
func regionUnscaled(s *study) {
	o := s.find("diaphragm-excursion")
	o.pic.regions[1].deltaX = 0
	s.expect(o.uid, "region-incomplete", "", "", "the time axis has an increment of 0")
}

// pixelsCut ends a file in the middle of its pixels, as a broken transfer does.
func pixelsCut(s *study) {
	o := s.find("diaphragm-excursion")
	o.syntax = explicitLE
	o.keepBytes = func(size int) int { return size * 3 / 5 }
	s.expect(o.uid, "pixel-data-cut", "", "", "the file ends in the middle of its pixels")
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

// copyOf is a file beside those of the objects.
type copyOf struct {
	of      *object
	path    string
	finding string
	what    string
	// change is made to the object before it is written again; keep is how many
	// bytes stay.
	change func(*object)
	keep   int
}

func duplicate(s *study) {
	s.copies = append(s.copies, copyOf{of: s.images[0], path: "zz-recovered/US0001.dcm", finding: "instance-duplicate", what: "a copy of a file in another folder"})
}

// clash sends an image a second time under the same SOP Instance UID after its
// depth was edited.
func clash(s *study) {
	s.copies = append(s.copies, copyOf{
		of: s.images[1], path: "zz-recovered/US0002.dcm", finding: "instance-conflict", what: "another object under the same SOP Instance UID",
		change: func(o *object) { o.depthMM += 5 },
	})
}

// headerCut leaves the first bytes of a file that was to be sent again.
func headerCut(s *study) {
	s.copies = append(s.copies, copyOf{
		of: s.images[0], path: "zz-recovered/US0003.dcm", finding: "file-unreadable", what: "the file ends in the middle of its header",
		change: func(o *object) { o.uid = hashUID(o.uid, "sent again") }, keep: 700,
	})
}
