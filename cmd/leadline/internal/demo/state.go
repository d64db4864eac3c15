package demo

import (
	"fmt"
	"time"

	"github.com/suyashkumar/dicom/pkg/tag"

	"leadline/ingest/coord"
)

const greyscaleState = "1.2.840.10008.5.1.4.1.1.11.1"

// state is a presentation state with one line and its text on one image, or with a
// text alone.
type state struct {
	study *study
	uid   string
	image *object
	// mark is the line, whose first point the text stands at.
	mark     mark
	textOnly bool
	text     string
	path     string
}

// caption writes a text on an image into a presentation state.
func (s *study) caption(o *object, text string, at coord.Point) {
	s.states = append(s.states, &state{
		study: s, image: o, mark: mark{frame: 1, points: []coord.Point{at}}, textOnly: true, text: text,
		uid: hashUID(s.uid, "state", fmt.Sprint(len(s.states)+1)),
	})
}

// annotate draws a mark of an image into a presentation state, as a person would
// who measures at the workstation: the text holds name and value.
func (s *study) annotate(o *object, name, short string) {
	m, k := measures[name], o.pic.marks[name]
	s.states = append(s.states, &state{
		study: s, image: o, mark: k, uid: hashUID(s.uid, "state", fmt.Sprint(len(s.states)+1)),
		text: fmt.Sprintf("%s %s %s", short, m.text(o.pic.regions[k.region], k), m.unit.value),
	})
}

// dataSet makes the presentation state (PS3.3 A.33.1, C.10.4, C.10.5, C.10.7).
func (t *state) dataSet() (*dataSet, error) {
	s := t.study
	d := s.header(s.patient, greyscaleState, t.uid, "PR", seriesStates)
	d.text(tag.BodyPartExamined, s.describe().bodyPart)
	d.text(tag.InstanceNumber, "1")
	d.text(tag.ContentLabel, "CALIPERS")
	d.text(tag.ContentDescription)
	d.text(tag.ContentCreatorName, reader)
	stamp(d, tag.PresentationCreationDate, tag.PresentationCreationTime, s.last().Add(2*time.Hour))
	d.text(tag.PresentationLUTShape, "IDENTITY")

	image := reference(t.image.sopClass(), t.image.uid)
	series := &dataSet{}
	series.text(tag.SeriesInstanceUID, hashUID(s.uid, "series", fmt.Sprint(seriesImages)))
	series.items(tag.ReferencedImageSequence, image)
	d.items(tag.ReferencedSeriesSequence, series)

	area := &dataSet{}
	area.ints(tag.DisplayedAreaTopLeftHandCorner, 1, 1)
	area.ints(tag.DisplayedAreaBottomRightHandCorner, t.image.pic.columns, t.image.pic.rows)
	area.text(tag.PresentationSizeMode, "SCALE TO FIT")
	area.text(tag.PresentationPixelAspectRatio, "1", "1")
	d.items(tag.DisplayedAreaSelectionSequence, area)

	layer := &dataSet{}
	layer.text(tag.GraphicLayer, "CALIPERS")
	layer.text(tag.GraphicLayerOrder, "1")
	d.items(tag.GraphicLayerSequence, layer)
	d.items(tag.GraphicAnnotationSequence, t.annotation())
	return d, nil
}

func (t *state) annotation() *dataSet {
	a := &dataSet{}
	a.text(tag.GraphicLayer, "CALIPERS")
	var frames []int
	if t.image.clip() {
		frames = []int{t.mark.frame}
	}
	a.items(tag.ReferencedImageSequence, reference(t.image.sopClass(), t.image.uid, frames...))

	var flat []float64
	for _, p := range t.mark.points {
		flat = append(flat, p.X, p.Y)
	}
	if !t.textOnly {
		line := &dataSet{}
		line.text(tag.GraphicAnnotationUnits, "PIXEL")
		line.ints(tag.GraphicDimensions, 2)
		line.ints(tag.NumberOfGraphicPoints, len(t.mark.points))
		line.floats(tag.GraphicData, flat...)
		line.text(tag.GraphicType, "POLYLINE")
		a.items(tag.GraphicObjectSequence, line)
	}

	text := &dataSet{}
	text.text(tag.UnformattedTextValue, t.text)
	text.text(tag.AnchorPointAnnotationUnits, "PIXEL")
	text.floats(tag.AnchorPoint, flat[:2]...)
	text.text(tag.AnchorPointVisibility, "N")
	a.items(tag.TextObjectSequence, text)
	return a
}
