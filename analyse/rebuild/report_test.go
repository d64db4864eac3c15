package rebuild

import (
	"strings"
	"testing"

	"leadline/analyse"
	"leadline/ingest"
	"leadline/ingest/dcm"
	"leadline/ingest/presentation"
	"leadline/ingest/report"
)

func code(value, scheme, meaning string) dcm.Code {
	return dcm.Code{Value: value, Scheme: scheme, Meaning: meaning}
}

func on(images ...string) []dcm.Reference {
	var refs []dcm.Reference
	for _, uid := range images {
		refs = append(refs, dcm.Reference{InstanceUID: uid})
	}
	return refs
}

func drawing1(kind, pts string, images ...string) report.Graphic {
	return report.Graphic{Type: kind, Points: points(pts), Images: on(images...), Link: report.LinkOwn}
}

// number is a NUM of no known measure.
func number(text, unit string, graphics ...report.Graphic) report.Numeric {
	n := report.Numeric{Concept: code("X1", "99TEST", "Some size"), Text: text, Unit: code(unit, "UCUM", unit), Graphics: graphics}
	r := row("", "line||"+text+"||")
	n.Value = r.Value
	return n
}

func withReport(numerics ...report.Numeric) *analyse.Study {
	s := sample()
	s.Reports = []*ingest.Instance{{SOPInstanceUID: "r1", Report: &report.Document{Numerics: numerics}}}
	return s
}

func TestReports(t *testing.T) {
	grouped := drawing1("POLYLINE", "100,100 130,100 130,140 100,100", "mmode")
	grouped.Link = report.LinkGroup
	frameZero := drawing1("POLYLINE", "100,100 130,140", "mmode")
	frameZero.Images[0].Frames = []int{0}
	ninth := drawing1("POLYLINE", "100,100 130,140", "mmode")
	ninth.Images[0].Frames = []int{9}
	meaning := number("0.5", "not-ucum", drawing1("POLYLINE", "100,100 130,140", "mmode"))
	meaning.Unit.Meaning = "cm"
	lvidd := number("5.0", "mm", drawing1("POLYLINE", "100,350 160,375", "mmode"))
	lvidd.Concept = code("29436-3", "LN", "Left Ventricle Internal End Diastolic Dimension")
	line := func(image string) report.Graphic { return drawing1("POLYLINE", "100,100 130,140", image) }
	for _, c := range []struct {
		name, want, note string
		n                report.Numeric
	}{
		{"line", "distance 5 mm agrees", "", number("5.0", "mm", line("mmode"))},
		{"unit by its meaning", "distance 5 mm agrees", "", meaning},
		{"number alone", "reported-only", "no caliper", number("5.0", "mm")},
		{"number alone with a telling unit", "area reported-only", "", number("5.0", "cm2")},
		{"no value, no caliper", "not-rebuilt value-missing", "no number", number("", "mm")},
		{"no value", "distance 5 mm rebuilt-only value-missing", "no number", number("", "mm", line("mmode"))},
		{"measure", "depth-difference 5 mm agrees", "", lvidd},
		{"length in unit 1", "ratio not-rebuilt unit-does-not-fit", "", number("5.0", "1", line("mmode"))},
		{"frame 0", "distance 5 mm agrees", "frame 0", number("5.0", "mm", frameZero)},
		{"frame that is not there", "not-rebuilt caliper-outside-image", "frame 9", number("5.0", "mm", ninth)},
		{"no image", "not-rebuilt image-not-found", "names no image", number("5.0", "mm", drawing1("POLYLINE", "100,100 130,140"))},
		{"two separate points", "distance 5 mm agrees", "ends of a line", number("5.0", "mm", drawing1("MULTIPOINT", "100,100 130,140", "mmode"))},
		{"three separate points", "not-rebuilt unit-does-not-fit", "separate points", number("5.0", "mm", drawing1("MULTIPOINT", "100,100 130,140 1,1", "mmode"))},
		{"three points of an angle", "angle 26.5651 deg agrees", "", number("27", "deg", drawing1("MULTIPOINT", "400,100 100,100 400,250", "mmode"))},
		{"two lines of an angle", "angle 45 deg agrees", "between two lines", number("45", "deg", drawing1("POLYLINE", "100,100 200,100", "mmode"), drawing1("POLYLINE", "150,150 250,250", "mmode"))},
		{"outline and line: the unit tells", "area 6 mm2 agrees", "", number("6.0", "mm2", line("mmode"), drawing1("POLYLINE", "100,100 130,100 130,140 100,100", "mmode"))},
		{"contour and long axis", "volume 1.5708 mL agrees", "round discs", number("1.57", "mL", drawing1("POLYLINE", "100,100 300,100 300,200 100,200 100,100", "mmode"), drawing1("POLYLINE", "100,150 300,150", "mmode"))},
		{"long axis and contour", "volume 1.5708 mL agrees", "round discs", number("1.57", "cm3", drawing1("POLYLINE", "100,150 300,150", "mmode"), drawing1("POLYLINE", "100,100 300,100 300,200 100,200 100,100", "mmode"))},
		{"contour and an axis on another image", "volume not-rebuilt unit-does-not-fit", "", number("1.57", "mL", drawing1("POLYLINE", "100,100 300,100 300,200 100,200 100,100", "mmode"), drawing1("POLYLINE", "100,150 300,150", "pw"))},
		{"two contours of one volume", "volume not-rebuilt unit-does-not-fit", "", number("1.57", "mL", drawing1("POLYLINE", "100,100 300,100 300,200 100,200 100,100", "mmode"), drawing1("POLYLINE", "100,100 300,100 300,190 100,200 100,100", "mmode"))},
		{"two lines of one number", "not-rebuilt caliper-ambiguous", "2 graphics", number("5.0", "mm", line("mmode"), drawing1("POLYLINE", "10,10 40,50", "mmode"))},
		{"area of a group", "area 6 mm2 agrees", "", number("6.0", "mm2", grouped)},
		{"length of a group's outline", "not-rebuilt caliper-ambiguous", "group", number("5.0", "mm", grouped)},
		{"on two images of one scale", "distance 5 mm agrees", "2 images", number("5.0", "mm", drawing1("POLYLINE", "100,100 130,140", "mmode", "colour"))},
		{"on two images of two scales", "not-rebuilt caliper-ambiguous", "scales differ", number("5.0", "mm", drawing1("POLYLINE", "100,100 130,140", "mmode", "ct"))},
		{"one of two images is missing", "distance 5 mm agrees", "not among", number("5.0", "mm", drawing1("POLYLINE", "100,100 130,140", "gone", "mmode"))},
	} {
		got := Measurements(withReport(c.n), nil, nil)
		if said := describe(got); said != c.want || !strings.Contains(got[0].Note, c.note) {
			t.Errorf("%s:\n got %s (%s)\nwant %s (%s)", c.name, said, got[0].Note, c.want, c.note)
		}
	}
}

func TestReportIdentity(t *testing.T) {
	n := number("5.0", "mm", drawing1("POLYLINE", "100,100 130,140", "mmode"))
	n.Modifiers = []report.Modifier{
		{Name: code("363698007", "SCT", "Finding Site"), Value: code("1", "SCT", "Aortic root")},
		{Name: code("1", "99TEST", "Comment"), Text: "what a person typed"},
	}
	n.Selection, n.Observer = code("121410", "DCM", "User chosen value"), "Somebody"
	m := Measurements(withReport(n), nil, nil)[0]
	if m.Label != "Some size" || m.Code != "X1" || m.Scheme != "99TEST" || len(m.Modifiers) != 1 || m.Modifiers[0] != "Finding Site: Aortic root" ||
		!m.Selected || m.Observer != "Somebody" || m.SourceUID != "r1" || m.Source != analyse.SourceReport || m.Geometry != ingest.GeometryLine || m.SOPUID != "mmode" {
		t.Errorf("%+v", m)
	}
}

// Reports by UID, then presentation states, then tables; numbers run through.
func TestOrder(t *testing.T) {
	s := withReport(number("5.0", "mm"), number("6.0", "mm"))
	s.Reports = append(s.Reports, &ingest.Instance{SOPInstanceUID: "r0", Report: &report.Document{Numerics: []report.Numeric{number("7.0", "mm")}}})
	s.Presentations = []*ingest.Instance{stateOf(presentation.Annotation{
		Graphics: []presentation.Graphic{{Type: "POLYLINE", Units: "PIXEL", Points: points("100,100 130,140")}},
		Texts:    []presentation.Text{{Text: "D 8.0 mm"}},
	})}
	got := Measurements(s, []ingest.CaliperRow{row("mmode", "line|100,100 130,140|9.0|mm|")}, nil)
	for i, want := range []float64{7, 5, 6, 8, 9} {
		if got[i].Number != i+1 || got[i].Reported.Value != want {
			t.Errorf("place %d: number %d, value %v, want %v", i, got[i].Number, got[i].Reported.Value, want)
		}
	}
}

func stateOf(a presentation.Annotation) *ingest.Instance {
	return &ingest.Instance{SOPInstanceUID: "p1", Presentation: &presentation.State{Images: on("mmode"), Annotations: []presentation.Annotation{a}}}
}

func TestPresentations(t *testing.T) {
	for _, c := range []struct {
		name, text, want, note string
		g                      presentation.Graphic
	}{
		{"line", "LVIDd 0.50 cm", "distance 5 mm agrees", "", presentation.Graphic{Type: "POLYLINE", Units: "PIXEL", Points: points("100,100 130,140")}},
		{"ruler without text", "", "distance 5 mm rebuilt-only", "", presentation.Graphic{Type: "RULER", Compound: true, Units: "PIXEL", Points: points("100,100 130,140")}},
		{"arrow with words", "cyst?", "", "", presentation.Graphic{Type: "POLYLINE", Units: "PIXEL", Points: points("100,100 130,140")}},
		{"line without text", "", "", "", presentation.Graphic{Type: "POLYLINE", Units: "PIXEL", Points: points("100,100 130,140")}},
		{"measure without number", "LVIDd", "distance 5 mm rebuilt-only", "no single number", presentation.Graphic{Type: "POLYLINE", Units: "PIXEL", Points: points("100,100 130,140")}},
		{"curve", "12 mm", "not-rebuilt caliper-ambiguous", "not defined", presentation.Graphic{Type: "INTERPOLATED", Units: "PIXEL", Points: points("100,100 130,140 150,100")}},
		{"ellipse by its bounding box", "339 mm2", "area 339.292 mm2 agrees", "bounding box", presentation.Graphic{Type: "ELLIPSE", Compound: true, Units: "PIXEL", Points: points("100,110 340,290")}},
		{"fractions without an area", "5 mm", "not-rebuilt caliper-uncalibrated", "displayed area", presentation.Graphic{Type: "POLYLINE", Units: "DISPLAY", Points: points("0.1,0.1 0.2,0.2")}},
	} {
		s := sample()
		a := presentation.Annotation{Graphics: []presentation.Graphic{c.g}}
		if c.text != "" {
			a.Texts = []presentation.Text{{Text: c.text}}
		}
		s.Presentations = []*ingest.Instance{stateOf(a)}
		got := Measurements(s, nil, nil)
		if said := describe(got); said != c.want || len(got) > 0 && !strings.Contains(got[0].Note, c.note) {
			t.Errorf("%s:\n got %s\nwant %s", c.name, said, c.want)
		}
	}
}

// DISPLAY points are fractions of the displayed area: of 1\1 to 800\600 here.
func TestPresentationDisplayUnits(t *testing.T) {
	s := sample()
	inst := stateOf(presentation.Annotation{
		Graphics: []presentation.Graphic{{Type: "POLYLINE", Units: "DISPLAY", Points: points("0.125,0.125 0.25,0.125")}},
		Texts:    []presentation.Text{{Text: "10.0 mm"}},
	})
	inst.Presentation.Areas = []presentation.Area{{TopLeft: [2]int{1, 1}, BottomRight: [2]int{800, 600}}}
	s.Presentations = []*ingest.Instance{inst}
	got := Measurements(s, nil, nil)
	if said := describe(got); said != "distance 10 mm agrees" || got[0].Points[0] != (ingest.Point{X: 100, Y: 75}) {
		t.Errorf("%s at %v", said, got[0].Points)
	}
}
