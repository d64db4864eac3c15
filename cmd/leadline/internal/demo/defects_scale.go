package demo

import (
	"fmt"

	"github.com/suyashkumar/dicom/pkg/tag"

	"leadline/ingest"
)

// Scales and timing that contradict themselves. All are planted where nothing is
// measured, so that no verdict changes.

// trace is the region of an ECG over the foot of a picture, two seconds wide.
func (o *object) trace() region {
	width := o.pic.columns - 4
	return region{
		format: ingest.FormatWaveform, dataType: dataECG,
		x0: 2, y0: o.pic.rows - 20, x1: o.pic.columns - 3, y1: o.pic.rows - 3,
		ref:   &[2]int{width - 1, 8},
		unitX: ingest.UnitSecond, deltaX: 2 / float64(width),
	}
}

// withTrace adds a trace that is wrong by change.
func (s *study) withTrace(image int, finding, what string, change func(*region)) {
	o := s.images[image]
	r := o.trace()
	change(&r)
	o.pic.regions = append(o.pic.regions, r)
	s.expect(o.uid, finding, "", "", what)
}

func traceEmpty(s *study) {
	s.withTrace(0, "region-bounds-empty", "a trace one column wide", func(r *region) { r.x1 = r.x0 })
}

func traceBackward(s *study) {
	s.withTrace(1, "region-time-backward", "the time of a trace runs to the left", func(r *region) { r.deltaX *= -1 })
}

func traceEndless(s *study) {
	s.withTrace(2, "strip-width-implausible", "a trace with a second to every pixel", func(r *region) { r.deltaX = 1 })
}

func traceInCM(s *study) {
	s.withTrace(3, "region-unit-unfit", "a trace along centimetres", func(r *region) { r.unitX = ingest.UnitCM })
}

// traceElsewhere refers a trace to the first pixel of the picture, as real files do.
func traceElsewhere(s *study) {
	s.withTrace(4, "trace-reference-misplaced", "a trace referred to the first pixel of the picture", func(r *region) { r.ref = &[2]int{-r.x0, -r.y0} })
}

// millimetres writes a scale in mm where cm is meant. The stated depth then
// disagrees too.
func millimetres(s *study) {
	o := s.images[0]
	o.pic.regions[0].deltaX *= 10
	o.pic.regions[0].deltaY *= 10
	s.expect(o.uid, "region-size-implausible", "", "", "the increments are in mm")
	s.expect(o.uid, "scan-depth-disagrees", "", "", "ten times the stated depth")
	s.expectInPicture(o.uid, "ruler-contradicts-scale", "the ruler has ten times as many pixels to a centimetre as the header says")
}

// rulerOff makes the scale of a picture 8 % too large, both ways: too little for any
// check of the header of a shallow picture, and seen by the ruler alone.
func rulerOff(s *study) {
	o := s.images[5]
	for i := range o.pic.regions {
		o.pic.regions[i].deltaX *= 1.08
		o.pic.regions[i].deltaY *= 1.08
	}
	s.expectInPicture(o.uid, "ruler-contradicts-scale", "the scale of the header is 8 % too large")
}

func stretched(s *study) {
	o := s.images[1]
	o.pic.regions[0].deltaX *= 1.25
	s.expect(o.uid, "pixel-shape-unexplained", "", "", "pixels a quarter too wide")
}

// wrapped writes 11 rows above the region as a 16-bit number without sign.
func wrapped(s *study) {
	o := s.images[2]
	r := &o.pic.regions[0]
	r.ref = &[2]int{r.ref[0], 1<<16 - 11}
	s.expect(o.uid, "reference-pixel-misplaced", "", "", "the reference row has lost its sign")
}

// stripDeep adds a strip of the other side, not measured, whose depth is half as
// large again as that of the picture above it.
func stripDeep(s *study) {
	o := s.add(diaphragmMMode(s.still(), s.anatomy), view{name: "Diaphragm"}, bitsMMode, 0)
	o.laterality = "L"
	o.pic.regions[1].deltaY *= 1.5
	s.expect(o.uid, "strip-depth-disagrees", "", "", "the strip goes deeper than the picture")
}

func depthOff(s *study) {
	o := s.images[2]
	o.depthMM += 40
	s.expect(o.uid, "scan-depth-disagrees", "", "", "the stated depth is 4 cm too large")
}

func pulsesFew(s *study) {
	o := s.find("sma-peak-systolic-velocity")
	o.pic.regions[1].prfHz /= 2
	s.expect(o.uid, "doppler-scale-implausible", "", "", "half the pulses that the range needs")
}

// scaleFlag sets bit 2 of Region Flags, frequency (PS3.3 C.8.5.5.1.3).
func scaleFlag(s *study) {
	o := s.find("sma-peak-systolic-velocity")
	o.pic.regions[1].flags |= 1 << 2
	s.expect(o.uid, "doppler-scale-flag", "", "", "cm/s, and the flag of frequencies")
}

func frameTimeZero(s *study) {
	o := s.images[3]
	o.edit = func(d *dataSet) { d.text(tag.FrameTime, "0") }
	s.expect(o.uid, "frame-time-zero", "", "", "Frame Time is 0 beside a Cine Rate")
}

// lossyTwice names a step of compression before the last.
func lossyTwice(s *study) {
	o := s.images[4]
	o.edit = func(d *dataSet) {
		d.text(tag.LossyImageCompressionRatio, "8.0", "12.5")
		d.text(tag.LossyImageCompressionMethod, "ISO_10918_1", "ISO_10918_1")
	}
	s.expect(o.uid, "lossy-history", "", "", "compressed with loss twice")
}

func madeAfterwards(s *study) {
	o := s.images[0]
	o.edit = func(d *dataSet) { d.text(tag.ImageType, "DERIVED", "SECONDARY", s.describe().imageType, o.mode) }
	s.expect("", "secondary-capture", "", "", fmt.Sprintf("picture %d was made after the examination", o.instance))
}

// burnedInUnknown is counted once for the archive: the row names no study, and all
// that plant it share it.
func burnedInUnknown(s *study) {
	s.images[2].burnedIn = ""
	s.truth = append(s.truth, truthRow{finding: "burned-in-unknown", what: "pictures do not say whether text is burned in"})
}
