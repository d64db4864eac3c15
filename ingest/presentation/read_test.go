package presentation

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"leadline/ingest/coord"
	"leadline/ingest/dcm"
	b "leadline/ingest/internal/dcmbuild"
)

func graphic(kind, units string, data ...float64) dcm.Dataset {
	return b.Set(b.Text(dcm.GraphicAnnotationUnits, "CS", units), b.Number(dcm.NumberOfGraphicPoints, "US", float64(len(data)/2)),
		b.Number(dcm.GraphicData, "FL", data...), b.Text(dcm.GraphicType, "CS", kind))
}

func compound(kind string, data ...float64) dcm.Dataset {
	return b.Set(b.Number(dcm.GraphicData, "FL", data...), b.Text(dcm.CompoundGraphicUnits, "CS", "PIXEL"), b.Text(dcm.CompoundGraphicType, "CS", kind))
}

// with adds an id to a graphic or a text.
func with(d dcm.Dataset, tag dcm.Tag, id float64) dcm.Dataset {
	d.Elements = append(d.Elements, b.Number(tag, "UL", id))
	return d
}

func anchored(text, units string, x, y float64) dcm.Dataset {
	return b.Set(b.Text(dcm.AnchorPointAnnotationUnits, "CS", units), b.Text(dcm.UnformattedTextValue, "ST", text), b.Number(dcm.AnchorPoint, "FL", x, y))
}

func boxed(text, units string, x0, y0, x1, y1 float64) dcm.Dataset {
	return b.Set(b.Text(dcm.BoundingBoxAnnotationUnits, "CS", units), b.Text(dcm.UnformattedTextValue, "ST", text),
		b.Number(dcm.BoundingBoxTopLeftHandCorner, "FL", x0, y0), b.Number(dcm.BoundingBoxBottomRightHandCorner, "FL", x1, y1))
}

// annotation is one item with graphics, compound graphics and texts.
func annotation(simple, compounds, texts []dcm.Dataset) dcm.Dataset {
	return b.Set(b.Text(dcm.GraphicLayer, "CS", "MEASURE"), b.Sequence(dcm.TextObjectSequence, texts...),
		b.Sequence(dcm.GraphicObjectSequence, simple...), b.Sequence(dcm.CompoundGraphicSequence, compounds...))
}

func area(left, top, right, bottom float64, image ...string) dcm.Dataset {
	d := b.Set(b.Number(dcm.DisplayedAreaTopLeftHandCorner, "SL", left, top), b.Number(dcm.DisplayedAreaBottomRightHandCorner, "SL", right, bottom))
	if len(image) > 0 {
		d.Elements = append(d.Elements, b.References(dcm.ReferencedImageSequence, image[0], image[1:]...))
	}
	return d
}

// state is a presentation state for images 1.2 with these areas and annotations.
func state(areas []dcm.Dataset, annotations ...dcm.Dataset) dcm.Dataset {
	return b.Set(
		b.Sequence(dcm.ReferencedSeriesSequence, b.Set(b.References(dcm.ReferencedImageSequence, "1.2"))),
		b.Sequence(dcm.GraphicAnnotationSequence, annotations...),
		b.Text(dcm.ImageHorizontalFlip, "CS", "N"), b.Number(dcm.ImageRotation, "US", 0),
		b.Sequence(dcm.DisplayedAreaSelectionSequence, areas...),
		b.Sequence(dcm.GraphicLayerSequence, b.Set(b.Text(dcm.GraphicLayer, "CS", "MEASURE"), b.Text(dcm.GraphicLayerOrder, "IS", "2"), b.Text(dcm.GraphicLayerDescription, "LO", "calipers"))),
		b.Text(dcm.ContentLabel, "CS", "LABEL"), b.Text(dcm.ContentCreatorName, "PN", "Harbour^Ada"))
}

func TestRead(t *testing.T) {
	d := state([]dcm.Dataset{area(1, 1, 800, 600)},
		annotation([]dcm.Dataset{graphic("POLYLINE", "PIXEL", 10.5, 20.5, 30.5, 20.5)}, nil,
			[]dcm.Dataset{anchored("LVIDd\r\n1.82 cm \\ x", "PIXEL", 31, 21)}))
	s := Read(&d)
	got := fmt.Sprintf("%s|%s|%v|%v|%v|%v|%v", s.Label, s.Creator, s.Images, s.Layers, s.Areas, s.Annotations[0].Graphics, s.Problems)
	want := "LABEL|Harbour^Ada|[{1.2.840.10008.5.1.4.1.1.6.1 1.2 []}]|[{MEASURE calipers 2}]|[{[] [1 1] [800 600]}]|[{POLYLINE PIXEL [{10.5 20.5} {30.5 20.5}] false false 0 0}]|[]"
	if got != want {
		t.Errorf("got\n%s, want\n%s", got, want)
	}
	text := s.Annotations[0].Texts[0]
	if text.Text != "LVIDd\r\n1.82 cm \\ x" || text.Anchor != dcm.Some(coord.Point{X: 31, Y: 21}) || text.BoxTopLeft.Set {
		t.Errorf("text %+v", text)
	}
}

// describe lists graphics as "TYPE[x,y …]", compound ones in small letters.
func describe(graphics []Graphic) string {
	var out []string
	for _, g := range graphics {
		kind := g.Type
		if g.Compound {
			kind = strings.ToLower(kind)
		}
		var points []string
		for _, p := range g.Points {
			points = append(points, fmt.Sprintf("%g,%g", p.X, p.Y))
		}
		out = append(out, kind+"["+strings.Join(points, " ")+"]")
	}
	return strings.Join(out, " ")
}

func TestGraphics(t *testing.T) {
	id := func(d dcm.Dataset, id float64) dcm.Dataset { return with(d, dcm.CompoundGraphicInstanceID, id) }
	miscounted := graphic("POLYLINE", "PIXEL", 1, 2, 3, 4)
	miscounted.Elements[1] = b.Number(dcm.NumberOfGraphicPoints, "US", 4)
	type sets = []dcm.Dataset
	tests := []struct {
		name             string
		simple, compound sets
		want, problem    string
	}{
		{"all simple types", sets{graphic("POINT", "PIXEL", 1, 2), graphic("POLYLINE", "PIXEL", 1, 2, 3, 4), graphic("INTERPOLATED", "PIXEL", 1, 2, 3, 4, 5, 6), graphic("CIRCLE", "PIXEL", 1, 2, 3, 4), graphic("ELLIPSE", "PIXEL", 1, 2, 3, 4, 5, 6, 7, 8)}, nil,
			"POINT[1,2] POLYLINE[1,2 3,4] INTERPOLATED[1,2 3,4 5,6] CIRCLE[1,2 3,4] ELLIPSE[1,2 3,4 5,6 7,8]", ""},
		{"ruler alone", nil, sets{compound("RULER", 1, 2, 3, 4)}, "ruler[1,2 3,4]", ""},
		{"ruler repeated with its ticks", sets{id(graphic("POLYLINE", "PIXEL", 1, 2, 3, 4), 7), id(graphic("POLYLINE", "PIXEL", 1, 1, 1, 3), 7), graphic("POLYLINE", "PIXEL", 9, 9, 8, 8)}, sets{id(compound("RULER", 1, 2, 3, 4), 7)},
			"POLYLINE[9,9 8,8] ruler[1,2 3,4]", ""},
		{"rectangle repeated", sets{id(graphic("POLYLINE", "PIXEL", 1, 2, 3, 2, 3, 4, 1, 4, 1, 2), 7)}, sets{id(compound("RECTANGLE", 1, 2, 3, 4), 7)},
			"POLYLINE[1,2 3,2 3,4 1,4 1,2]", ""},
		{"rectangle alone", nil, sets{id(compound("RECTANGLE", 1, 2, 3, 4), 7)}, "rectangle[1,2 3,4]", ""},
		{"other instances stay", sets{id(graphic("POLYLINE", "PIXEL", 1, 2, 3, 4), 6)}, sets{id(compound("AXIS", 1, 2, 3, 4), 7)}, "POLYLINE[1,2 3,4] axis[1,2 3,4]", ""},
		{"count of values instead of points", sets{miscounted}, nil, "POLYLINE[1,2 3,4]", "annotation 1, graphic 1: expected as many points as Number of Graphic Points says"},
		{"odd", sets{graphic("POLYLINE", "PIXEL", 1, 2, 3)}, nil, "", "annotation 1, graphic 1: expected an even number of coordinates"},
		{"one point in a line", sets{graphic("POLYLINE", "PIXEL", 1, 2)}, nil, "", "two points or more in a POLYLINE"},
		{"no points", sets{graphic("INTERPOLATED", "PIXEL")}, nil, "", "two points or more in a INTERPOLATED"},
		{"two in a point", sets{graphic("POINT", "PIXEL", 1, 2, 3, 4)}, nil, "", "one point in a POINT"},
		{"three in a circle", sets{graphic("CIRCLE", "PIXEL", 1, 2, 3, 4, 5, 6)}, nil, "", "two points in a CIRCLE"},
		{"two in an ellipse", sets{graphic("ELLIPSE", "PIXEL", 1, 2, 3, 4)}, nil, "", "four points in an ELLIPSE"},
		{"unknown type", sets{graphic("MULTIPOINT", "PIXEL", 1, 2, 3, 4)}, nil, "", "a graphic type among"},
		{"three in a ruler", nil, sets{compound("RULER", 1, 2, 3, 4, 5, 6)}, "", "annotation 1, compound graphic 1: expected two points in a RULER"},
		{"compound without type", nil, sets{compound("", 1, 2, 3, 4)}, "", "a compound graphic type"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			d := state(nil, annotation(tt.simple, tt.compound, nil))
			s := Read(&d)
			if got := describe(s.Annotations[0].Graphics); got != tt.want {
				t.Errorf("got %s, want %s", got, tt.want)
			}
			if all := strings.Join(s.Problems, "\n"); tt.problem == "" && all != "" || !strings.Contains(all, tt.problem) {
				t.Errorf("problems %q, want %q", s.Problems, tt.problem)
			}
		})
	}
}

func TestShape(t *testing.T) {
	two, three := make([]coord.Point, 2), make([]coord.Point, 3)
	tests := []struct {
		g    Graphic
		kind string
		ok   bool
	}{
		{Graphic{Type: "POLYLINE", Points: three}, "POLYLINE", true},
		{Graphic{Type: "ELLIPSE", Points: make([]coord.Point, 4)}, "ELLIPSE", true},
		{Graphic{Type: "INTERPOLATED", Points: three}, "INTERPOLATED", false},
		{Graphic{Type: "RULER", Points: two, Compound: true}, "POLYLINE", true},
		{Graphic{Type: "AXIS", Points: two, Compound: true}, "POLYLINE", true},
		{Graphic{Type: "MULTILINE", Points: two, Compound: true}, "POLYLINE", true},
		{Graphic{Type: "MULTILINE", Points: three, Compound: true}, "POLYLINE", false},
		{Graphic{Type: "ELLIPSE", Points: two, Compound: true}, "", false},
		{Graphic{Type: "INFINITELINE", Points: two, Compound: true}, "", false},
	}
	for _, tt := range tests {
		if kind, ok := tt.g.Shape(); ok != tt.ok || kind != tt.kind {
			t.Errorf("%s, %d points, compound %v: got %q %v, want %q %v", tt.g.Type, len(tt.g.Points), tt.g.Compound, kind, ok, tt.kind, tt.ok)
		}
	}
}

func TestStateProblems(t *testing.T) {
	tests := []struct {
		name    string
		element dcm.Element
		problem string
	}{
		{"rotation", b.Number(dcm.ImageRotation, "US", 45), "image rotation: expected 0, 90, 180 or 270 degrees"},
		{"flip", b.Text(dcm.ImageHorizontalFlip, "CS", "X"), "image horizontal flip: expected Y or N"},
		{"area without corner", b.Sequence(dcm.DisplayedAreaSelectionSequence, b.Set(b.Number(dcm.DisplayedAreaTopLeftHandCorner, "SL", 1, 1))), "displayed area 1: expected a column and a row for each corner"},
		{"area turned over", b.Sequence(dcm.DisplayedAreaSelectionSequence, area(10, 1, 5, 8)), "displayed area 1: expected a bottom right corner"},
		{"text without text", b.Sequence(dcm.GraphicAnnotationSequence, annotation(nil, nil, []dcm.Dataset{anchored("", "PIXEL", 1, 1)})), "annotation 1, text 1: expected a text"},
		{"anchor of three", b.Sequence(dcm.GraphicAnnotationSequence, annotation(nil, nil, []dcm.Dataset{b.Set(b.Text(dcm.UnformattedTextValue, "ST", "x"), b.Number(dcm.AnchorPoint, "FL", 1, 2, 3))})), "annotation 1, text 1: expected a column and a row at (0070,0014)"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			d := b.Set(tt.element)
			if got := Read(&d).Problems; len(got) != 1 || !strings.Contains(got[0], tt.problem) {
				t.Errorf("problems %q, want %q", got, tt.problem)
			}
		})
	}
}

func TestLimits(t *testing.T) {
	big := graphic("POLYLINE", "PIXEL", make([]float64, 2*600_000)...)
	big.Elements[1] = b.Text(dcm.NumberOfGraphicPoints, "US") // more than it can count
	d := state(nil, annotation([]dcm.Dataset{big, big}, nil, []dcm.Dataset{anchored("a", "PIXEL", 0, 0), anchored("b", "PIXEL", 1, 1), anchored("c", "PIXEL", 1, 1), anchored("d", "PIXEL", 1, 1), anchored("e", "PIXEL", 1, 1), anchored("f", "PIXEL", 1, 1), anchored("g", "PIXEL", 1, 1)}))
	s := Read(&d)
	if len(s.Annotations[0].Graphics) != 1 || len(s.Problems) != 2 || !strings.Contains(s.Problems[0], "at most 1000000 points") || !strings.Contains(s.Problems[1], "fewer texts and points") {
		t.Errorf("%d graphics, problems %q", len(s.Annotations[0].Graphics), s.Problems)
	}
	if got := s.TextsOf(&s.Annotations[0], "1.2", 1); got[0] != -1 {
		t.Errorf("paired beyond the limit: %v", got)
	}
	many := make([]dcm.Dataset, 300)
	d = state(nil, annotation(many, nil, nil))
	if s := Read(&d); len(s.Problems) != maxProblems+1 || s.Problems[maxProblems] != "and 200 more" {
		t.Errorf("%d problems", len(s.Problems))
	}
}

// TestRealStates holds what dcmdump prints of the real presentation states.
func TestRealStates(t *testing.T) {
	files, _ := filepath.Glob("../../../shared/data/real/pr/*")
	if len(files) == 0 {
		t.Skip("the real presentation states are not here: ../../../shared/data")
	}
	want := map[string]string{
		"Tests__DicomCoreTests__Fixtures__ClinicalInterop__gsps_annotation.dcm": "INTEROP [MEASUREMENTS] areas 1 images 1: POLYLINE[0,0 1,1]",
		"tests__test_dicom__2.25.304589190180579357564631626197663875025.dcm":   "GSPS [DRAW] areas 0 images 1: POLYLINE[661.4031,1636.723 994.0842,1636.723 994.0842,2024.199 661.4031,2024.199 661.4031,1636.723]",
	}
	for _, file := range files {
		content, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		f, err := dcm.Scan(bytes.NewReader(content), int64(len(content)))
		if err != nil {
			t.Fatal(err)
		}
		s := Read(&f.Data)
		var points []string
		for _, p := range s.Annotations[0].Graphics[0].Points {
			points = append(points, fmt.Sprintf("%.7g,%.7g", p.X, p.Y))
		}
		got := fmt.Sprintf("%s [%s] areas %d images %d: %s[%s]", s.Label, s.Layers[0].Name, len(s.Areas), len(s.Images), s.Annotations[0].Graphics[0].Type, strings.Join(points, " "))
		if got != want[filepath.Base(file)] || len(s.Problems) != 0 {
			t.Errorf("got %s, want %s, problems %q", got, want[filepath.Base(file)], s.Problems)
		}
	}
}
