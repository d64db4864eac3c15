package rebuild

import (
	"fmt"
	"math"

	"leadline/analyse"
	"leadline/analyse/physical"
	"leadline/ingest"
)

// outcome is one rebuilt value and where its scale came from.
type outcome struct {
	image    string
	region   int
	source   analyse.CalibrationSource
	quantity analyse.QuantityKind
	value    physical.Quantity
	scaleU   analyse.ScaleU
	// contributions are what the points add, or, of an interval, its frames; nil where
	// nobody asks for them.
	contributions []physical.Contribution
	// second are those of the second plane, where there are two.
	second []physical.Contribution
	// suspect is why the calibration cannot be trusted, empty where it can.
	suspect string
	mode    analyse.Mode
	// signs tells that the sign of the value may be compared.
	signs bool
	notes notes
	// img, scaledBy and formula are what the value was computed on and by; formula is
	// nil for an interval between frames, which timedBy tells of, scaledBy for Pixel
	// Spacing.
	img      *analyse.Image
	scaledBy *analyse.Region
	formula  *formula
	timedBy  string
	// work holds the steps, nil where they are not asked for.
	work *physical.Work
}

// maxImages bounds on how many images one graphic is rebuilt: a state may apply
// to thousands, and none of them is then the one it was set on.
const maxImages = 100

// onImages rebuilds the caliper on the images it may lie on. Where it is drawn on
// several, all must give the same value.
//
// A unit that the geometry cannot give is told before a missing image: the image
// would not help.
func (c *caliper) onImages(images map[string]*analyse.Image) ([]outcome, *failure) {
	formulas, fail := c.want.formulas(c.m.Geometry, len(c.m.Points))
	if fail != nil {
		c.locate()
		return nil, fail
	}
	if len(c.images) == 0 {
		return nil, failed(ReasonImageNotFound, "the caliper names no image")
	}
	present, missing := c.present(images)
	switch {
	case len(present) == 0:
		c.locate()
		return nil, failed(ReasonImageNotFound, "the image of the caliper is not among the files of the study")
	case len(present) > maxImages:
		return nil, failed(ReasonAmbiguous, fmt.Sprintf("the graphic is drawn on %d images; which of them it was set on is not said", len(present)))
	case missing > 0:
		c.notes.add(fmt.Sprintf("%d of the images it is drawn on %s not among the files", missing, analyse.Agree(missing, "is", "are")))
	}
	c.m.SOPUID = present[0].InstanceUID
	c.frames(present[0])
	first, fail := c.onImage(images[present[0].InstanceUID], formulas)
	for _, ref := range present[1:] {
		other, otherFail := c.onImage(images[ref.InstanceUID], formulas)
		if (fail == nil) != (otherFail == nil) || !sameValues(first, other) {
			return nil, failed(ReasonAmbiguous, fmt.Sprintf("the graphic is drawn on %d images whose scales differ", len(present)))
		}
	}
	if fail == nil && len(present) > 1 {
		c.notes.add(fmt.Sprintf("drawn on %d images of the same scale", len(present)))
	}
	return first, fail
}

// locate names the first image that the caliper refers to.
func (c *caliper) locate() {
	if len(c.images) > 0 {
		c.m.SOPUID = c.images[0].InstanceUID
		c.frames(c.images[0])
	}
}

// present are the references to images of the study, each image once.
func (c *caliper) present(images map[string]*analyse.Image) (list []ingest.Reference, missing int) {
	if len(c.images) == 1 {
		if images[c.images[0].InstanceUID] == nil {
			return nil, 1
		}
		return c.images, 0
	}
	seen := map[string]bool{}
	for _, ref := range c.images {
		switch {
		case seen[ref.InstanceUID]:
		case images[ref.InstanceUID] == nil:
			missing++
		default:
			list = append(list, ref)
		}
		seen[ref.InstanceUID] = true
	}
	return list, missing
}

func sameValues(a, b []outcome) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		x, y := a[i].value, b[i].value
		if a[i].quantity != b[i].quantity || math.Abs(x.Value-y.Value) > physical.ScaleTolerance*math.Abs(x.Value) {
			return false
		}
	}
	return true
}

// onImage rebuilds the caliper on one image.
func (c *caliper) onImage(img *analyse.Image, formulas []formula) ([]outcome, *failure) {
	if c.m.Geometry == ingest.GeometryFrames {
		return c.interval(img)
	}
	if fail := c.inside(img.Image); fail != nil {
		return nil, fail
	}
	if c.m.Geometry == ingest.GeometryLine && c.m.Points[0] == c.m.Points[1] {
		return nil, failed(ReasonDegenerate, "both ends of the line are the same point")
	}
	placement := c.rule.PlacementPX[c.m.Measure]
	scale, fail := choose(img, c.m.Points, formulas, c.want, placement)
	if fail != nil {
		return nil, fail
	}
	if fail := scale.leaveGap(img.Image, c.m.Frames, c.m.Points); fail != nil {
		return nil, fail
	}
	c.countCycles(&scale)
	scale.explain, scale.contributes = c.explain, c.contributes()
	outcomes, fail := scale.compute(img, c.m.Points, c.rule)
	for i := range outcomes {
		outcomes[i].placed(placement, c.rule.Protocol)
	}
	return outcomes, fail
}

// boundsSlack is how far a point may lie outside its picture, in pixels. Graphic
// data are 32-bit floats (VR FL), which round a coordinate of some thousands by
// less than this.
const boundsSlack = 1e-3

// inside refuses points outside the picture and frames that it does not have. A
// picture that does not say its size is taken as holding all.
func (c *caliper) inside(img *ingest.Image) *failure {
	if frame := beyondFrames(c.m.Frames, img); frame > 0 {
		return failed(ReasonOutsideImage, fmt.Sprintf("the caliper is on frame %d of an image of %d", frame, img.Frames))
	}
	columns, rows := float64(img.Columns), float64(img.Rows)
	if columns == 0 || rows == 0 {
		columns, rows = math.Inf(1), math.Inf(1)
	}
	outside := 0
	for _, p := range c.m.Points {
		// Written so that a coordinate that is no number counts as outside.
		within := p.X >= -boundsSlack && p.X <= columns+boundsSlack && p.Y >= -boundsSlack && p.Y <= rows+boundsSlack
		if !within || math.IsInf(p.X, 0) || math.IsInf(p.Y, 0) {
			outside++
		}
	}
	if outside == 0 {
		return nil
	}
	return failed(ReasonOutsideImage, fmt.Sprintf("%d of %s %s outside the picture of %d columns and %d rows",
		outside, analyse.Counted(len(c.m.Points), "point", "points"), analyse.Agree(outside, "lies", "lie"), img.Columns, img.Rows))
}

// beyondFrames is the first frame that the image does not have, or 0.
func beyondFrames(frames []int, img *ingest.Image) int {
	for _, f := range frames {
		if f > max(img.Frames, 1) {
			return f
		}
	}
	return 0
}
