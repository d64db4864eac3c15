package views_test

import (
	"testing"

	"leadline/analyse"
	"leadline/analyse/assemble"
	"leadline/analyse/views"
	"leadline/ingest"
	"leadline/ingest/presentation"
	"leadline/ingest/report"
)

// image is one of a study, with a view name and Image Type value 4.
func image(uid, view, mode, laterality string) *ingest.Instance {
	return &ingest.Instance{
		SOPInstanceUID: uid, Path: uid, Study: &ingest.Study{UID: "S"}, Series: &ingest.Series{}, Device: &ingest.Device{}, Patient: &ingest.Patient{},
		Image: &ingest.Image{Frames: 1, View: ingest.View{Name: view}, ImageType: []string{"ORIGINAL", "PRIMARY", "", mode}, ImageLaterality: laterality},
	}
}

const only2D, pulsed = "0001", "0009" // bits of PS3.3 C.8.5.6.1.1

func other(inst ingest.Instance) *ingest.Instance {
	inst.Study, inst.Series, inst.Device, inst.Patient = &ingest.Study{UID: "S"}, &ingest.Series{}, &ingest.Device{}, &ingest.Patient{}
	return &inst
}

// settled is the study after its views were settled, and the image 1.
func settled(t *testing.T, labels []ingest.LabelRow, instances ...*ingest.Instance) *analyse.Image {
	t.Helper()
	s := assemble.Studies(instances)
	if len(s) != 1 {
		t.Fatalf("%d studies", len(s))
	}
	views.Settle(s[0], labels)
	for _, img := range s[0].Images {
		if img.SOPInstanceUID == "1" {
			return img
		}
	}
	t.Fatal("no image 1")
	return nil
}

func label(line int, view, side string, modes ...string) ingest.LabelRow {
	return ingest.LabelRow{Table: "l.csv", Line: line, SOPUID: "1", View: view, Side: side, Modes: modes}
}

// TestLabels holds what labels do beside what the header says, by the rule that
// Settle states.
func TestLabels(t *testing.T) {
	const row2 = "labels l.csv, row 2"
	for _, c := range []struct {
		name           string
		header         *ingest.Instance
		labels         []ingest.LabelRow
		view, side     string
		source         analyse.ViewSource
		from, conflict string
	}{
		{"fills what is empty", image("1", "", only2D, ""), []ingest.LabelRow{label(2, "lung-lateral", "left")}, "lung-lateral", "left", analyse.ViewOfLabel, row2, ""},
		{"and what is not known", image("1", "loop nineteen", only2D, ""), []ingest.LabelRow{label(2, "subcostal", "")}, "subcostal", "", analyse.ViewOfLabel, row2, ""},
		{"the header says the same", image("1", "PLAX", only2D, ""), []ingest.LabelRow{label(2, "parasternal-long-axis", "")}, "parasternal-long-axis", "", analyse.ViewOfHeader, "", ""},
		{"the label is narrower", image("1", "coronal", only2D, ""), []ingest.LabelRow{label(2, "head-coronal-foramina", "")}, "head-coronal-foramina", "", analyse.ViewOfLabel, row2, ""},
		{"the label is wider", image("1", "coronal Monro", only2D, ""), []ingest.LabelRow{label(2, "head-coronal", "")}, "head-coronal-foramina", "", analyse.ViewOfHeader, "", ""},
		{"another view", image("1", "PLAX", only2D, ""), []ingest.LabelRow{label(2, "apical-four-chamber", "")}, "apical-four-chamber", "", analyse.ViewOfLabel, row2,
			row2 + " says apical-four-chamber, the header says parasternal-long-axis; the label stands"},
		{"another side", image("1", "lung lateral", only2D, "R"), []ingest.LabelRow{label(2, "lung-lateral", "left")}, "lung-lateral", "left", analyse.ViewOfLabel, row2,
			row2 + " says lung-lateral, left, the header says lung-lateral, right; the label stands"},
		{"the side of the header stays", image("1", "", only2D, "R"), []ingest.LabelRow{label(2, "lung-lateral", "")}, "lung-lateral", "right", analyse.ViewOfLabel, row2, ""},
		{"two labels", image("1", "", only2D, ""), []ingest.LabelRow{label(2, "subcostal", ""), label(3, "suprasternal", "")}, "subcostal", "", analyse.ViewOfLabel, row2,
			"labels l.csv, row 3 says suprasternal, row 2 of labels l.csv says subcostal, which stands"},
		{"two that agree", image("1", "", only2D, ""), []ingest.LabelRow{label(2, "subcostal", ""), label(3, "subcostal", "")}, "subcostal", "", analyse.ViewOfLabel, row2, ""},
		{"a note alone", image("1", "PLAX", only2D, ""), []ingest.LabelRow{{Table: "l.csv", Line: 2, SOPUID: "1", Note: "n"}}, "parasternal-long-axis", "", analyse.ViewOfHeader, "", ""},
	} {
		img := settled(t, c.labels, c.header)
		if img.ViewID != c.view || img.Side() != c.side || img.ViewSource != c.source || img.ViewFrom != c.from || img.LabelConflict != c.conflict {
			t.Errorf("%s: %q %q %q %q %q", c.name, img.ViewID, img.Side(), img.ViewSource, img.ViewFrom, img.LabelConflict)
		}
	}
}

func TestLabelsOfModes(t *testing.T) {
	for _, c := range []struct {
		name, header, want, from, conflict string
		label                              []string
	}{
		{"fills what is empty", "", "[pw]", "labels l.csv, row 2", "", []string{"pw"}},
		{"the header says more", pulsed, "[2d pw]", "", "", []string{"pw"}},
		{"another mode", only2D, "[m-mode]", "labels l.csv, row 2", "labels l.csv, row 2 says m-mode, the header says 2d; the label stands", []string{"m-mode"}},
	} {
		img := settled(t, []ingest.LabelRow{label(2, "", "", c.label...)}, image("1", "PLAX", c.header, ""))
		if got := join(img.Modes); got != c.want || img.ModesFrom != c.from || img.LabelConflict != c.conflict || img.ViewSource != analyse.ViewOfHeader {
			t.Errorf("%s: %s %q %q", c.name, got, img.ModesFrom, img.LabelConflict)
		}
	}
}

func join(words []string) string {
	out := "["
	for i, w := range words {
		if i > 0 {
			out += " "
		}
		out += w
	}
	return out + "]"
}

// TestShared: a label changes the picture of its own image, not that of another
// which shares the header.
func TestShared(t *testing.T) {
	one, two := image("1", "", "", ""), image("2", "", "", "")
	two.Image = one.Image
	s := assemble.Studies([]*ingest.Instance{one, two})[0]
	views.Settle(s, []ingest.LabelRow{label(2, "subcostal", "", "2d")})
	if s.Images[0].ViewID != "subcostal" || s.Images[1].ViewID != "" || len(s.Images[1].Modes) != 0 {
		t.Errorf("%q and %q", s.Images[0].ViewID, s.Images[1].ViewID)
	}
}

func ref(uid string) ingest.Reference { return ingest.Reference{InstanceUID: uid} }

// state is a presentation state with one text, beside a graphic where one is given.
func state(uid, text string, graphics ...presentation.Graphic) *ingest.Instance {
	return other(ingest.Instance{SOPInstanceUID: uid, Presentation: &presentation.State{
		Images:      []ingest.Reference{ref("1")},
		Annotations: []presentation.Annotation{{Graphics: graphics, Texts: []presentation.Text{{Text: text}}}},
	}})
}

// viewed is a report whose image library states the view of image 1.
func viewed(uid string, view ingest.Code) *ingest.Instance {
	return other(ingest.Instance{SOPInstanceUID: uid, Report: &report.Document{Views: []report.ImageView{{Images: []ingest.Reference{ref("1")}, View: view}}}})
}

// measured is a report with a number whose Image View is that of the images its
// caliper lies on (PS3.16 TID 5203).
func measured(view ingest.Code, images ...ingest.Reference) *ingest.Instance {
	return other(ingest.Instance{SOPInstanceUID: "R", Report: &report.Document{Numerics: []report.Numeric{{
		Modifiers: []report.Modifier{{Name: ingest.Code{Value: "111031", Scheme: "DCM"}, Value: view}},
		Graphics:  []report.Graphic{{Images: images}},
	}}}})
}

var fourChamber = ingest.Code{Value: "399214001", Scheme: "SCT", Meaning: "Apical four chamber"}

// TestSaid holds what annotations and reports tell: whole words of the vocabulary
// only, no label of a measurement, nothing where they contradict each other, and
// nothing against the header.
func TestSaid(t *testing.T) {
	for _, c := range []struct {
		name   string
		header string
		others []*ingest.Instance
		view   string
		source analyse.ViewSource
		from   string
	}{
		{"a text", "", []*ingest.Instance{state("P", "Apical 4 chamber")}, "apical-four-chamber", analyse.ViewOfAnnotation, "a text of annotation 1"},
		{"no part of a text", "", []*ingest.Instance{state("P", "Apical 4 chamber seen by the father")}, "", "", ""},
		{"no label of a caliper", "", []*ingest.Instance{state("P", "IVC", presentation.Graphic{Type: "POLYLINE"})}, "", "", ""},
		{"an image library", "", []*ingest.Instance{viewed("R", fourChamber)}, "apical-four-chamber", analyse.ViewOfReport, "report 1"},
		{"a meaning in words", "", []*ingest.Instance{viewed("R", ingest.Code{Value: "7", Scheme: "99WARD", Meaning: "Apikaler Vierkammerblick"})}, "apical-four-chamber", analyse.ViewOfReport, "report 1"},
		{"a number on one image", "", []*ingest.Instance{measured(fourChamber, ref("1"))}, "apical-four-chamber", analyse.ViewOfReport, "report 1"},
		{"a number on two images", "", []*ingest.Instance{measured(fourChamber, ref("1"), ref("2"))}, "", "", ""},
		{"contradicting each other", "", []*ingest.Instance{state("P", "subcostal"), viewed("R", fourChamber)}, "", "", ""},
		{"one within the other", "", []*ingest.Instance{state("P", "subcostal"), state("Q", "subcostal IVC")}, "subcostal-inferior-vena-cava", analyse.ViewOfAnnotation, "a text of annotation 2"},
		{"within what the header says", "subcostal", []*ingest.Instance{state("P", "IVC")}, "subcostal-inferior-vena-cava", analyse.ViewOfAnnotation, "a text of annotation 1"},
		{"never against the header", "PLAX", []*ingest.Instance{viewed("R", fourChamber)}, "parasternal-long-axis", analyse.ViewOfHeader, ""},
	} {
		img := settled(t, nil, append(c.others, image("1", c.header, only2D, ""), image("2", "", only2D, ""))...)
		if img.ViewID != c.view || img.ViewSource != c.source || img.ViewFrom != c.from {
			t.Errorf("%s: %q %q %q", c.name, img.ViewID, img.ViewSource, img.ViewFrom)
		}
	}
}

// TestLabelOfExam: the first row that names the exam decides, and a conflict tells
// none of its words; the header's own picture, which others share, stays as it was.
func TestLabelOfExam(t *testing.T) {
	exam := func(line int, words string) ingest.LabelRow {
		return ingest.LabelRow{Table: "l.csv", Line: line, SOPUID: "1", Exam: words}
	}
	img := settled(t, []ingest.LabelRow{exam(2, ""), exam(3, "Neo lung"), exam(4, "Neo lung"), exam(5, "Neo head")}, image("1", "PLAX", only2D, ""))
	if img.Exam != "Neo lung" || img.ViewID != "parasternal-long-axis" || img.ViewSource != analyse.ViewOfHeader {
		t.Errorf("%q %q %q", img.Exam, img.ViewID, img.ViewSource)
	}
	if want := "labels l.csv, row 5 gives another exam than row 3 of labels l.csv, which stands"; img.LabelConflict != want {
		t.Errorf("%q, want %q", img.LabelConflict, want)
	}
	if img := settled(t, []ingest.LabelRow{exam(2, "Neo lung")}, image("1", "", only2D, "")); img.LabelConflict != "" {
		t.Errorf("one row: %q", img.LabelConflict)
	}
}
