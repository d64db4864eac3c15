package rebuild

import (
	"strings"

	"leadline/analyse"
	"leadline/analyse/measures"
	"leadline/ingest"
	"leadline/ingest/presentation"
)

// fromPresentations hands over the graphics of presentation states that are
// measurements: those whose text holds a number or names a measure, and rulers.
// Other graphics are marks and pictures; a presentation state does not tell them
// from measurements, so none of them is taken for one.
func fromPresentations(study *analyse.Study, images map[string]*analyse.Image, words *measures.Catalogue, take func(*caliper)) {
	for _, inst := range byUID(study.Presentations) {
		state := inst.Presentation
		for i := range state.Annotations {
			a := &state.Annotations[i]
			at := placeOf(state, a, images)
			texts := state.TextsOf(a, at.InstanceUID, frameOf(at))
			for k := range a.Graphics {
				text := ""
				if t := texts[k]; t >= 0 {
					text = a.Texts[t].Text
				}
				d := drawing{inst: inst, annotation: a, graphic: &a.Graphics[k], at: at, text: text, words: words}
				if c, ok := d.caliper(); ok {
					take(&c)
				}
			}
		}
	}
}

// refsOf are the images that an annotation is drawn on.
func refsOf(s *presentation.State, a *presentation.Annotation) []ingest.Reference {
	if len(a.Images) > 0 {
		return a.Images
	}
	return s.Images
}

// placeOf is the image that places are computed on: the first that is there.
func placeOf(s *presentation.State, a *presentation.Annotation, images map[string]*analyse.Image) ingest.Reference {
	refs := refsOf(s, a)
	for _, ref := range refs {
		if images[ref.InstanceUID] != nil {
			return ref
		}
	}
	if len(refs) > 0 {
		return refs[0]
	}
	return ingest.Reference{}
}

// frameOf is the frame that places are computed on; 0 is the image as a whole.
func frameOf(ref ingest.Reference) int {
	if len(ref.Frames) > 0 {
		return ref.Frames[0]
	}
	return 0
}

// drawing is one graphic of a presentation state with the text beside it.
type drawing struct {
	inst       *ingest.Instance
	annotation *presentation.Annotation
	graphic    *presentation.Graphic
	at         ingest.Reference
	text       string
	words      *measures.Catalogue
}

func (d *drawing) caliper() (caliper, bool) {
	reading := presentation.ParseText(d.text)
	match, known := d.words.OfLabel(reading.Label)
	if !known && !reading.Value.Set && !strings.ContainsAny(d.text, "0123456789") && d.graphic.Type != "RULER" {
		return caliper{}, false
	}
	c := caliper{
		m: analyse.Measurement{
			Measure: match.ID, Side: match.Side, Label: reading.Label,
			Source: analyse.SourcePresentation, SourceUID: d.inst.SOPInstanceUID, SOPUID: d.at.InstanceUID,
			Observer: d.inst.Presentation.Creator,
		},
		images: refsOf(d.inst.Presentation, d.annotation),
		want:   wanted(match, known, reading.Unit),
	}
	c.m.Reported = reported(reading.Value, reading.ValueText, reading.Unit)
	if c.m.Reported == nil && d.text != "" {
		c.notes.add("no single number with a unit can be read from the text")
	}
	d.shape(&c)
	return c, true
}

// shape places the graphic on its image.
func (d *drawing) shape(c *caliper) {
	points, reason, ok := d.inst.Presentation.ImagePoints(*d.graphic, d.at.InstanceUID, frameOf(d.at))
	if !ok {
		c.stop = failed(ReasonUncalibrated, reason)
		return
	}
	if d.graphic.Units != presentation.UnitsPixel {
		// Fractions of a displayed area mean other pixels on every image.
		c.images = []ingest.Reference{d.at}
	}
	if s, ok := boundingBox(d.graphic, points); ok {
		c.put(s)
		return
	}
	kind, ok := d.graphic.Shape()
	s, known := shapeOf(kind, points)
	if !ok || !known {
		c.m.Points = points
		c.stop = failed(ReasonAmbiguous, "the course of the figure between its points is not defined by the standard, so it has no one size")
		return
	}
	c.put(s)
}

// boundingBox turns a compound ellipse, whose two points are the corners of its
// bounding box (PS3.3 C.10.5.1.3.9), into the ends of its axes. A rotation of it is
// not read; area and circumference do not depend on one where pixels are square.
func boundingBox(g *presentation.Graphic, points []ingest.Point) (shape, bool) {
	if !g.Compound || g.Type != "ELLIPSE" || len(points) != 2 {
		return shape{}, false
	}
	a, b := points[0], points[1]
	x, y := (a.X+b.X)/2, (a.Y+b.Y)/2
	return shape{
		geometry: ingest.GeometryEllipse,
		points:   []ingest.Point{{X: a.X, Y: y}, {X: b.X, Y: y}, {X: x, Y: a.Y}, {X: x, Y: b.Y}},
		note:     "an ellipse given by its bounding box",
	}, true
}
