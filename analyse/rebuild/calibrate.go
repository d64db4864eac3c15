package rebuild

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"leadline/analyse"
	"leadline/analyse/physical"
	"leadline/ingest"
)

// scale is the one calibration that was chosen, and the formulas that it serves.
type scale struct {
	plane    physical.Plane
	region   *analyse.Region
	source   analyse.CalibrationSource
	formulas []formula
	notes    notes
	// explain tells that the steps are written down, contributes that what each point
	// adds to the uncertainty is kept.
	explain, contributes bool
}

// choose finds the one calibration for points on an image. In this order:
//
//  1. the regions that hold all points and whose axes fit one of the formulas; they
//     must agree, then the lowest ordinal serves, before a suspect one a sound one;
//  2. where a calibrated region or a strip holds all points and none fits, nothing;
//  3. where the points lie partly in such a region, nothing: a caliper has one
//     calibration;
//  4. Pixel Spacing, which has no meaning inside a strip.
//
// pointStdU is the placing error of the caliper in pixels, 0 where it is not known.
func choose(img *analyse.Image, points []ingest.Point, formulas []formula, w want, pointStdU float64) (scale, *failure) {
	var fitting []scale
	var holding *scale // the first region that holds all points and does not fit
	touched := false
	for i := range img.Regions {
		r := &img.Regions[i]
		plane := physical.RegionPlane(r.Raw)
		plane.PointStdU = pointStdU
		usable := plane.X.Usable() || plane.Y.Usable()
		if !usable && !strip(r.Raw) {
			continue // a legend or the frame around the picture: no calibration
		}
		held := countHeld(r.Raw, points)
		if held < len(points) {
			touched = touched || held > 0
			continue
		}
		s := scale{plane: plane, region: r, source: analyse.CalibrationRegion, formulas: fit(plane, formulas)}
		switch {
		case len(s.formulas) > 0:
			fitting = append(fitting, s)
		case holding == nil:
			holding = &s
		}
	}
	switch {
	case len(fitting) > 0:
		return agreed(fitting, w)
	case holding != nil:
		return scale{}, misfit(*holding)
	case touched:
		return scale{}, failed(ReasonAcrossRegions, "the points do not lie in one region: no calibration holds for all of them")
	}
	return bySpacing(img.Image, formulas, w, pointStdU)
}

// strip tells regions whose axes are no lengths: M-mode, spectral and traces.
func strip(r *ingest.Region) bool {
	switch r.SpatialFormat.Value {
	case ingest.FormatMMode, ingest.FormatSpectral, ingest.FormatWaveform:
		return true
	}
	return false
}

// countHeld counts the points in a region. Bounds are inclusive pixel indices
// (PS3.3 C.8.5.5.1.14), so in continuous coordinates the region reaches from Min
// to Max + 1.
func countHeld(r *ingest.Region, points []ingest.Point) int {
	if !r.MinX0.Set || !r.MinY0.Set || !r.MaxX1.Set || !r.MaxY1.Set {
		return 0
	}
	left, right := float64(r.MinX0.Value), float64(r.MaxX1.Value)+1
	top, bottom := float64(r.MinY0.Value), float64(r.MaxY1.Value)+1
	held := 0
	for _, p := range points {
		if p.X >= left && p.X <= right && p.Y >= top && p.Y <= bottom {
			held++
		}
	}
	return held
}

func fit(plane physical.Plane, all []formula) []formula {
	var list []formula
	for i := range all {
		if all[i].fits(plane) {
			list = append(list, all[i])
		}
	}
	return list
}

// agreed takes one of the regions that fit, if all give the same values.
func agreed(fitting []scale, w want) (scale, *failure) {
	best := fitting[0].reduced(w)
	for _, other := range fitting[1:] {
		other = other.reduced(w)
		if !best.sameAs(other) {
			return scale{}, failed(ReasonAmbiguous, fmt.Sprintf("regions %d and %d hold all points and scale them differently",
				best.region.Raw.Ordinal, other.region.Raw.Ordinal))
		}
		if best.region.Suspect != "" && other.region.Suspect == "" {
			best = other
		}
	}
	return best, nil
}

// reduced keeps one formula where unit or measure decided; an undecided line in a
// strip keeps both of its quantities.
func (s scale) reduced(w want) scale {
	if w.decided() {
		s.formulas = s.formulas[:1]
	}
	return s
}

func (s scale) sameAs(o scale) bool {
	if len(s.formulas) != len(o.formulas) {
		return false
	}
	for i := range s.formulas {
		f := &s.formulas[i]
		if f.quantity != o.formulas[i].quantity || !f.same(s.plane, o.plane) {
			return false
		}
	}
	return true
}

// misfit says why the region that holds the caliper cannot give its quantity.
func misfit(s scale) *failure {
	x, y := s.plane.X, s.plane.Y
	where := fmt.Sprintf("region %d holds the points; its x axis %s, its y axis %s", s.region.Raw.Ordinal, axisWords(x), axisWords(y))
	if x.Lack == physical.LackDelta || y.Lack == physical.LackDelta || !x.Usable() && !y.Usable() {
		return failed(ReasonUncalibrated, where)
	}
	return failed(ReasonUnit, where+", which gives no such quantity")
}

func axisWords(a physical.Axis) string {
	if a.Usable() {
		return "is in " + string(a.Unit)
	}
	return string(a.Lack)
}

// bySpacing falls back to Pixel Spacing.
func bySpacing(img *ingest.Image, formulas []formula, w want, pointStdU float64) (scale, *failure) {
	spacing, ok := img.Spacing.Pixel.Get()
	if !ok {
		return scale{}, failed(ReasonUncalibrated, "no region holds the points and the image has no Pixel Spacing")
	}
	plane, ok := physical.SpacingPlane(spacing)
	if !ok {
		return scale{}, failed(ReasonUncalibrated, "no region holds the points and Pixel Spacing is not a positive number")
	}
	plane.PointStdU = pointStdU
	s := scale{plane: plane, source: analyse.CalibrationSpacing, formulas: fit(plane, formulas)}
	if len(s.formulas) == 0 {
		return scale{}, failed(ReasonUnit, "only Pixel Spacing holds here, which gives lengths, areas and angles, and no such quantity")
	}
	if len(img.Regions) > 0 {
		s.notes.add("no calibrated region holds the points; scaled by Pixel Spacing")
	}
	return s.reduced(w), nil
}

// signed are the quantities whose sign a report writes; the integral of flow away
// from the transducer is reported without one.
var signed = []analyse.QuantityKind{analyse.Velocity, analyse.MeanVelocity, analyse.Depth}

// compute works the formulas out.
func (s scale) compute(img *analyse.Image, points []ingest.Point, rule *analyse.UncertaintyRule) ([]outcome, *failure) {
	outcomes := make([]outcome, len(s.formulas))
	for i, f := range s.formulas {
		plane := s.plane
		if s.explain {
			plane = s.explained(&f)
		}
		var contributions []physical.Contribution
		if s.contributes {
			contributions = make([]physical.Contribution, 0, len(points))
			plane.Contributions = &contributions
		}
		q, err := f.compute(plane, points)
		if err != nil {
			return nil, failureOf(err)
		}
		o := outcome{image: img.SOPInstanceUID, source: s.source, quantity: f.quantity, signs: slices.Contains(signed, f.quantity)}
		o.img, o.scaledBy, o.formula, o.contributions = img, s.region, &s.formulas[i], contributions
		o.mode = analyse.ModeOf(nil)
		if o.work = plane.Work; o.work != nil {
			o.work.DropUnused(physical.PartScale)
		}
		o.value, o.scaleU = withScale(q, f.quantity, rule, o.work)
		o.notes = append(o.notes, s.notes...)
		if f.note != "" {
			o.notes.add(f.note)
		}
		if s.region != nil {
			o.region, o.mode = s.region.Raw.Ordinal, analyse.ModeOf(s.region.Raw)
			o.suspect = s.region.Suspect
			s.remark(&o, f, points)
		}
		outcomes[i] = o
	}
	return outcomes, nil
}

// remark adds what a reader must know of a value from a region.
func (s scale) remark(o *outcome, f formula, points []ingest.Point) {
	raw := s.region.Raw
	velocity := f.absolute && f.y == physical.CMPerS
	if velocity && s.plane.Y.Delta > 0 {
		o.signs = false
		o.notes.add("Physical Delta Y is positive here, against the standard: speeds stand, the sign does not")
	}
	zero, ok := s.plane.Y.Zero.Get()
	if velocity && ok && (zero.Pixel < raw.MinY0.Value || zero.Pixel > raw.MaxY1.Value) {
		o.notes.add("the baseline lies outside its region: the reference pixel may be given in coordinates of the image")
	}
	if f.ofVelocity() {
		o.notes.add(angleWords(raw))
	}
	if f.quantity == analyse.MeanVelocity {
		o.notes.add("averaged over the time of the trace: the mean of whatever was traced, highest or mean velocities")
	}
	if closed := f.geometry == ingest.GeometryPolygon; f.timed && velocity {
		e, err := s.plane.Trace(points, closed)
		if err == nil && e.WayBack() > 0 {
			o.notes.add("without the way back of the outline along the baseline, " + analyse.Counted(e.WayBack(), "point", "points"))
		}
		if err == nil && e.BothSides() {
			o.notes.add("the trace lies on both sides of the baseline: flow one way counts against flow the other")
		}
	}
	if o.suspect != "" {
		o.notes.add("suspect: " + o.suspect)
	}
}

// failureOf says an arithmetic refusal in words.
func failureOf(err error) *failure {
	switch {
	case errors.Is(err, physical.ErrNoZero):
		return failed(ReasonZeroUnknown, "the region has no reference pixel with a value: only differences can be rebuilt, not a value at a point")
	case errors.Is(err, physical.ErrAxes):
		return failed(ReasonUnit, "pixels are not square, so a circle drawn on them has no single diameter")
	case errors.Is(err, physical.ErrDegenerate), errors.Is(err, physical.ErrSelfCrossing), errors.Is(err, physical.ErrFlat), errors.Is(err, physical.ErrTooManyPoints),
		errors.Is(err, physical.ErrBackwards), errors.Is(err, physical.ErrOffBaseline), errors.Is(err, physical.ErrDiscs), errors.Is(err, physical.ErrPointCount):
		return failed(ReasonDegenerate, "the "+strings.TrimPrefix(err.Error(), "the "))
	}
	return failed(ReasonDegenerate, "no finite value: "+err.Error())
}
