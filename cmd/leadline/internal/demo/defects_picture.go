package demo

import (
	"bytes"
	"strings"

	"github.com/suyashkumar/dicom/pkg/tag"

	"leadline/ingest/coord"
)

// Scales and timing that go wrong.

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
	s.expectInPicture(o.uid, "ruler-contradicts-scale", "the ruler has half as many pixels to a centimetre as the header says")
	for _, n := range s.on(o) {
		for i, at := range n.points {
			n.points[i] = coord.Point{X: at.X / 2, Y: at.Y / 2}
		}
		s.expect(o.uid, "", "suspect", n.concept.meaning, "measured on the resampled picture")
	}
}

func calibrationStripped(s *study) {
	o := s.find("vessel-diameter")
	o.noRegions = true
	s.expect(o.uid, "calibration-missing", "", "", "the export left the regions out")
	s.expectInPicture(o.uid, "ruler-offers-scale", "the ruler is still there")
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
	s.becomes(notAssessable, notAssessable, "lateral-right") // whether it is long enough
}

func cineContradicts(s *study) {
	o := s.images[1]
	o.cineRate *= 2
	s.expect(o.uid, "frame-timing-contradicts", "", "", "Cine Rate is twice what Frame Time says")
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

// regionUnscaled adds a strip of the other side, not measured, whose time axis has
// no increment.
func regionUnscaled(s *study) {
	o := s.add(diaphragmMMode(s.still(), s.anatomy), view{name: "Diaphragm"}, bitsMMode, 0)
	o.laterality = "L"
	o.pic.regions[1].deltaX = 0
	s.expect(o.uid, "region-incomplete", "", "", "the time axis has an increment of 0")
}

// sequenceLost takes the tag away that holds the regions, as a careless rewriting
// of the header does: the item then stands bare in the file.
func sequenceLost(s *study) {
	o := s.byView("IVC", bitsColour)
	o.mangle = func(file []byte) []byte {
		before, after, found := bytes.Cut(file, []byte("\x18\x00\x11\x60SQ\x00\x00\xff\xff\xff\xff"))
		if !found {
			panic("demo: no region sequence in an explicit little endian file")
		}
		return append(before, after...)
	}
	s.expect(o.uid, "region-sequence-lost", "", "", "the regions stand outside their sequence")
	s.expect(o.uid, "calibration-missing", "", "", "regions outside their sequence give no scale")
}
