package rebuild

import (
	"cmp"
	"fmt"
	"slices"

	"leadline/analyse"
	"leadline/analyse/measures"
	"leadline/analyse/physical"
	"leadline/ingest"
	"leadline/ingest/report"
)

// fromReports hands over the numbers of all reports.
func fromReports(study *analyse.Study, words *measures.Catalogue, take func(*caliper)) {
	for _, inst := range byUID(study.Reports) {
		for i := range inst.Report.Numerics {
			c := fromNumeric(inst, &inst.Report.Numerics[i], words)
			take(&c)
		}
	}
}

// byUID orders instances by SOP Instance UID, then by path.
func byUID(instances []*ingest.Instance) []*ingest.Instance {
	sorted := slices.Clone(instances)
	slices.SortStableFunc(sorted, func(a, b *ingest.Instance) int {
		return cmp.Or(cmp.Compare(a.SOPInstanceUID, b.SOPInstanceUID), cmp.Compare(a.Path, b.Path))
	})
	return sorted
}

func fromNumeric(inst *ingest.Instance, n *report.Numeric, words *measures.Catalogue) caliper {
	match, known := words.OfNumeric(n)
	c := caliper{
		m: analyse.Measurement{
			Measure: match.ID, Side: match.Side,
			Label: n.Concept.Meaning, Code: n.Concept.Value, Scheme: n.Concept.Scheme,
			Modifiers: modifierWords(n.Modifiers), Selected: !n.Selection.IsZero(),
			Source: analyse.SourceReport, SourceUID: inst.SOPInstanceUID, Observer: n.Observer,
			Mode: modeSaid(n),
		},
		want: wanted(match, known, n.Unit.Value, n.Unit.Meaning),
	}
	c.m.Reported = reported(n.Value, n.Text, cmp.Or(n.Unit.Value, n.Unit.Meaning))
	if len(n.Graphics) == 0 {
		c.bare = true
		if len(n.Images) > 0 {
			c.m.SOPUID = n.Images[0].InstanceUID
			c.frames(n.Images[0])
		}
		return c
	}
	c.take(n.Graphics)
	return c
}

// modifierWords writes the coded modifiers as "name: value". Free text is left out.
func modifierWords(modifiers []report.Modifier) []string {
	var words []string
	for _, m := range modifiers {
		if m.Name.Meaning != "" && m.Value.Meaning != "" {
			words = append(words, m.Name.Meaning+": "+m.Value.Meaning)
		}
	}
	return words
}

// drawn is a graphic with its shape.
type drawn struct {
	shape
	images []ingest.Reference
	group  bool
}

// take settles which of a number's graphics is its caliper: the only one, or the
// only one that gives a quantity in the reported unit. Two lines reported as an
// angle belong together.
func (c *caliper) take(graphics []report.Graphic) {
	var list []drawn
	for _, g := range graphics {
		if s, ok := shapeOf(g.Type, g.Points); ok {
			list = append(list, drawn{s, g.Images, g.Link != report.LinkOwn})
		}
	}
	if pair, ok := c.twoLines(list); ok {
		list = []drawn{pair}
	}
	if cavity, ok := c.contourAndAxis(list); ok {
		list = []drawn{cavity}
	}
	if c.bothPlanes(list) {
		return
	}
	if len(list) > 1 {
		list = c.fitting(list)
	}
	switch len(list) {
	case 0:
		c.stop = failed(ReasonUnit, "none of the graphics gives a quantity in the reported unit")
	case 1:
		c.images, c.want.group = list[0].images, list[0].group
		c.put(list[0].shape)
	default:
		c.images = list[0].images
		c.stop = failed(ReasonAmbiguous, fmt.Sprintf("%d graphics are tied to this number; which one it was read from is not said", len(list)))
	}
	if c.stop != nil && len(graphics[0].Images) > 0 {
		c.m.SOPUID = graphics[0].Images[0].InstanceUID
	}
}

// twoLines joins two lines on one image to the four points of an angle.
func (c *caliper) twoLines(list []drawn) (drawn, bool) {
	if c.want.unit != physical.Deg || len(list) != 2 {
		return drawn{}, false
	}
	a, b := list[0], list[1]
	if a.geometry != ingest.GeometryLine || b.geometry != ingest.GeometryLine || !sameImages(a.images, b.images) {
		return drawn{}, false
	}
	points := append(slices.Clone(a.points), b.points...)
	return drawn{shape{geometry: ingest.GeometryPolyline, points: points, note: "angle between two lines"}, a.images, a.group}, true
}

// contourAndAxis joins the contour of a cavity and its long axis, of which a volume
// is reported, to the points of discs. A contour alone has none: its longest chord
// need not be the axis that was taken.
func (c *caliper) contourAndAxis(list []drawn) (drawn, bool) {
	if c.want.unit != physical.ML || len(list) != 2 {
		return drawn{}, false
	}
	axis, contour := list[0], list[1]
	if axis.geometry != ingest.GeometryLine {
		axis, contour = contour, axis
	}
	if axis.geometry != ingest.GeometryLine || contour.geometry != ingest.GeometryPolygon || !sameImages(axis.images, contour.images) {
		return drawn{}, false
	}
	points := append(slices.Clone(axis.points), contour.points...)
	return drawn{shape{geometry: ingest.GeometryDiscs, points: points, note: "volume of round discs along the line given"}, axis.images, axis.group}, true
}

func sameImages(a, b []ingest.Reference) bool {
	return slices.EqualFunc(a, b, func(x, y ingest.Reference) bool {
		return x.InstanceUID == y.InstanceUID && slices.Equal(x.Frames, y.Frames)
	})
}

// fitting keeps the graphics that can give what is wanted.
func (c *caliper) fitting(list []drawn) []drawn {
	var kept []drawn
	for _, d := range list {
		w := c.want
		w.group, w.loose = d.group, d.loose
		s := d.outlined(w)
		if _, fail := w.formulas(s.geometry, len(s.points)); fail == nil {
			kept = append(kept, d)
		}
	}
	return kept
}
