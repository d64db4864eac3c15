package rebuild

import (
	"fmt"
	"slices"

	"leadline/analyse"
	"leadline/analyse/measures"
	"leadline/analyse/physical"
	"leadline/ingest"
)

// want is what is known of the quantity before the calibration is looked at.
type want struct {
	// unit is the unit of the reported value inside the program, factor turns the
	// reported number into it. Empty where no value or no known unit is given.
	unit   physical.Unit
	factor float64
	// written tells that a reported value stands with a unit, known or not.
	written bool
	// kind is the measure's quantity, empty where the measure is not known;
	// kindUnit its unit.
	kind     analyse.QuantityKind
	kindUnit physical.Unit
	// unreported tells that no report has an item for the value, which follows from
	// other measurements.
	unreported bool
	// group tells that the graphic belongs to a group of numbers, not to this one.
	group bool
	// loose tells that the points are separate marks, joined by no line.
	loose bool
}

// wanted reads the unit, by its code, else by its meaning, and the measure.
func wanted(measure measures.Match, known bool, spellings ...string) want {
	var w want
	if known {
		w.kind, w.kindUnit = measure.Quantity, measure.Unit
	}
	for _, s := range spellings {
		w.written = w.written || s != ""
		if c, ok := physical.ParseUnit(s); ok && w.unit == "" {
			w.unit, w.factor = c.Unit, c.Factor
		}
	}
	return w
}

// accepts lists the quantities that serve for a measure's: a distance is a depth
// difference in a strip, a velocity the difference to the baseline it is drawn
// from, a length that was traced a path.
var accepts = map[analyse.QuantityKind][]analyse.QuantityKind{
	analyse.Distance:           {analyse.Distance, analyse.DepthDifference, analyse.PathLength},
	analyse.PathLength:         {analyse.PathLength, analyse.Distance},
	analyse.Perimeter:          {analyse.Perimeter, analyse.PathLength},
	analyse.Area:               {analyse.Area},
	analyse.Angle:              {analyse.Angle},
	analyse.Depth:              {analyse.Depth, analyse.DepthDifference, analyse.Distance},
	analyse.DepthDifference:    {analyse.DepthDifference, analyse.Distance},
	analyse.Duration:           {analyse.Duration},
	analyse.Velocity:           {analyse.Velocity, analyse.VelocityDifference},
	analyse.VelocityDifference: {analyse.VelocityDifference, analyse.Velocity},
	analyse.Slope:              {analyse.Slope},
	analyse.Rate:               {analyse.Rate},
	analyse.Acceleration:       {analyse.Acceleration},
	analyse.Volume:             {analyse.Volume},

	analyse.VelocityTimeIntegral: {analyse.VelocityTimeIntegral},
	analyse.MeanVelocity:         {analyse.MeanVelocity, analyse.Velocity, analyse.VelocityDifference},
	analyse.MeanGradient:         {analyse.MeanGradient},
}

// decided tells that unit or measure say which quantity is meant.
func (w want) decided() bool { return w.unit != "" || w.kind != analyse.UnknownQuantity }

// quantity is what the value is of as far as unit and measure tell: the measure's
// quantity, unless the reported unit contradicts it.
func (w want) quantity() analyse.QuantityKind {
	if w.kind == analyse.UnknownQuantity || w.unit != "" && w.unit != w.kindUnit {
		return unitKinds[w.unit]
	}
	return w.kind
}

// formulas leaves those that a geometry offers for what is wanted. The reported
// unit decides; the measure decides where it is of that unit, or where no unit is
// known; where neither is, the plain quantities of the geometry stand.
func (w want) formulas(geometry ingest.Geometry, points int) ([]formula, *failure) {
	useKind := w.kind != analyse.UnknownQuantity && (w.unit == "" || w.unit == w.kindUnit)
	var list []formula
	counts := false
	for i := range formulas {
		f := &formulas[i]
		if f.geometry != geometry {
			continue
		}
		enough := points >= f.min && (f.max == 0 || points <= f.max)
		counts = counts || enough
		switch {
		case !enough && f.quantity != analyse.Angle:
			continue
		case w.unit != "" && f.unit != w.unit:
			continue
		case useKind && !slices.Contains(accepts[w.kind], f.quantity):
			continue
		case useKind && f.named && f.quantity != w.kind:
			continue // the mean of a trace is not its peak
		case !w.decided() && !f.plain, w.loose && f.quantity != analyse.Angle:
			continue
		case !enough:
			return nil, failed(ReasonUnit, fmt.Sprintf("an angle needs three points or four, not %d", points))
		}
		list = append(list, *f)
	}
	switch {
	case len(list) > 0 && list[0].named && !useKind && w.decided():
		return nil, failed(ReasonAmbiguous, "a trace gives a peak and a mean; which of them this number is, its label does not say")
	case !counts:
		return nil, failed(ReasonDegenerate, fmt.Sprintf("%s cannot have %s", withArticle(geometry), analyse.Counted(points, "point", "points")))
	case len(list) == 0 && w.kind == analyse.Ratio && w.unit == physical.One && geometry == ingest.GeometryPoint:
		return nil, failed(reasonNoFault, "no caliper gives a score: the point only marks the place")
	case len(list) == 0:
		return nil, failed(ReasonUnit, w.refusal(geometry))
	case w.group && closed(geometry) && list[0].quantity == analyse.Perimeter && w.kind != analyse.Perimeter:
		return nil, failed(ReasonAmbiguous, "the outline belongs to a group of numbers; which length of it this one is, is not said")
	}
	return list, nil
}

func (w want) refusal(geometry ingest.Geometry) string {
	shape := withArticle(geometry)
	if w.loose {
		shape = "a set of separate points"
	}
	if w.unit == "" {
		return fmt.Sprintf("%s does not give the quantity of this measure (%s)", shape, w.kind)
	}
	if w.kind != analyse.UnknownQuantity {
		return fmt.Sprintf("%s does not give the quantity of this measure (%s) in the reported unit", shape, w.kind)
	}
	return fmt.Sprintf("%s gives no quantity in the reported unit", shape)
}

func closed(g ingest.Geometry) bool {
	return g == ingest.GeometryPolygon || g == ingest.GeometryEllipse || g == ingest.GeometryCircle
}

func withArticle(g ingest.Geometry) string {
	switch g {
	case ingest.GeometryEllipse:
		return "an ellipse"
	case ingest.GeometryFrames:
		return "an interval between frames"
	}
	return "a " + string(g)
}

// unitKinds are the quantities that a unit alone tells; other units tell none.
var unitKinds = map[physical.Unit]analyse.QuantityKind{
	physical.MM2: analyse.Area, physical.ML: analyse.Volume, physical.S: analyse.Duration,
	physical.Deg: analyse.Angle, physical.MMHg: analyse.Pressure, physical.PerMin: analyse.Rate,
	physical.Percent: analyse.Ratio, physical.One: analyse.Ratio, physical.CMPerS2: analyse.Acceleration,
}
