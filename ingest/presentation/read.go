package presentation

import (
	"fmt"

	"leadline/ingest/coord"
	"leadline/ingest/dcm"
)

// Limits of one state. A limit reached is a problem that says what is left out.
const (
	maxPoints   = 1_000_000
	maxProblems = 100
)

type reader struct {
	state  *State
	points int // coordinate pairs that may still be read
	unsaid int // problems beyond the limit
}

// Read lists what a presentation state draws and on which images. It never fails:
// what cannot be read as the standard wants is left out and named in Problems.
func Read(d *dcm.Dataset) *State {
	r := &reader{state: &State{
		Label:   d.String(dcm.ContentLabel),
		Creator: d.String(dcm.ContentCreatorName),
	}, points: maxPoints}
	r.images(d)
	r.transformation(d)
	r.layers(d)
	r.areas(d)
	items := d.Items(dcm.GraphicAnnotationSequence)
	for i := range items {
		r.annotation(&items[i], fmt.Sprintf("annotation %d", i+1))
	}
	if r.unsaid > 0 {
		r.state.Problems = append(r.state.Problems, fmt.Sprintf("and %d more", r.unsaid))
	}
	return r.state
}

// problem notes what was expected at a place; never a value.
func (r *reader) problem(place, expected string) {
	if len(r.state.Problems) >= maxProblems {
		r.unsaid++
		return
	}
	r.state.Problems = append(r.state.Problems, place+": expected "+expected)
}

// images reads the images the state applies to (PS3.3 C.11.11).
func (r *reader) images(d *dcm.Dataset) {
	series := d.Items(dcm.ReferencedSeriesSequence)
	for i := range series {
		r.state.Images = append(r.state.Images, series[i].References(dcm.ReferencedImageSequence)...)
	}
}

// transformation reads rotation and flip (PS3.3 C.10.6). Only PIXEL graphics are
// untouched by them, so a rotation that is none is as good as one that is.
func (r *reader) transformation(d *dcm.Dataset) {
	if deg, ok := d.Int(dcm.ImageRotation).Get(); ok {
		r.state.RotationDeg = int(deg)
		if deg < 0 || deg > 270 || deg%90 != 0 {
			r.problem("image rotation", "0, 90, 180 or 270 degrees")
		}
	}
	switch d.String(dcm.ImageHorizontalFlip) {
	case "", "N":
	case "Y":
		r.state.Flip = true
	default:
		r.state.Flip = true
		r.problem("image horizontal flip", "Y or N")
	}
}

// layers reads the graphic layers (PS3.3 C.10.7).
func (r *reader) layers(d *dcm.Dataset) {
	items := d.Items(dcm.GraphicLayerSequence)
	for i := range items {
		r.state.Layers = append(r.state.Layers, Layer{
			Name:        items[i].String(dcm.GraphicLayer),
			Description: items[i].String(dcm.GraphicLayerDescription),
			Order:       int(items[i].Int(dcm.GraphicLayerOrder).Value),
		})
	}
}

// areas reads the displayed areas (PS3.3 C.10.4).
func (r *reader) areas(d *dcm.Dataset) {
	items := d.Items(dcm.DisplayedAreaSelectionSequence)
	for i := range items {
		place := fmt.Sprintf("displayed area %d", i+1)
		first, last := items[i].Ints(dcm.DisplayedAreaTopLeftHandCorner), items[i].Ints(dcm.DisplayedAreaBottomRightHandCorner)
		if len(first) != 2 || len(last) != 2 {
			r.problem(place, "a column and a row for each corner")
			continue
		}
		if last[0] < first[0] || last[1] < first[1] {
			r.problem(place, "a bottom right corner that is not left of or above the top left one")
			continue
		}
		r.state.Areas = append(r.state.Areas, Area{
			Images:  items[i].References(dcm.ReferencedImageSequence),
			TopLeft: [2]int{first[0], first[1]}, BottomRight: [2]int{last[0], last[1]},
		})
	}
}

// annotation reads one item of Graphic Annotation Sequence (PS3.3 C.10.5).
func (r *reader) annotation(d *dcm.Dataset, place string) {
	a := Annotation{Layer: d.String(dcm.GraphicLayer), Images: d.References(dcm.ReferencedImageSequence)}
	simple, compound := d.Items(dcm.GraphicObjectSequence), d.Items(dcm.CompoundGraphicSequence)
	for i := range simple {
		if g, ok := r.graphic(&simple[i], fmt.Sprintf("%s, graphic %d", place, i+1), false); ok {
			a.Graphics = append(a.Graphics, g)
		}
	}
	for i := range compound {
		if g, ok := r.graphic(&compound[i], fmt.Sprintf("%s, compound graphic %d", place, i+1), true); ok {
			a.Graphics = append(a.Graphics, g)
		}
	}
	a.Graphics = dropRepeated(a.Graphics)
	texts := d.Items(dcm.TextObjectSequence)
	for i := range texts {
		a.Texts = append(a.Texts, r.text(&texts[i], fmt.Sprintf("%s, text %d", place, i+1)))
	}
	if a.comparisons() > maxComparisons {
		r.problem(place, "fewer texts and points; its texts are not tied to graphics by their place")
	}
	r.state.Annotations = append(r.state.Annotations, a)
}

// text reads one text object. Its backslashes and line breaks are characters.
func (r *reader) text(d *dcm.Dataset, place string) Text {
	t := Text{
		Text:        d.Text(dcm.UnformattedTextValue),
		AnchorUnits: d.String(dcm.AnchorPointAnnotationUnits),
		BoxUnits:    d.String(dcm.BoundingBoxAnnotationUnits),
		Anchor:      r.corner(d, dcm.AnchorPoint, place),
		BoxTopLeft:  r.corner(d, dcm.BoundingBoxTopLeftHandCorner, place),
		BoxBottom:   r.corner(d, dcm.BoundingBoxBottomRightHandCorner, place),
		GroupID:     int(d.Int(dcm.GraphicGroupID).Value),
		InstanceID:  int(d.Int(dcm.CompoundGraphicInstanceID).Value),
	}
	if t.Text == "" {
		r.problem(place, "a text")
	}
	return t
}

func (r *reader) corner(d *dcm.Dataset, tag dcm.Tag, place string) dcm.Optional[coord.Point] {
	v := d.Floats(tag)
	if len(v) != 2 {
		if len(v) != 0 {
			r.problem(place, "a column and a row at "+tag.String())
		}
		return dcm.Optional[coord.Point]{}
	}
	return dcm.Some(coord.Point{X: v[0], Y: v[1]})
}
