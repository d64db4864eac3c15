package rebuild

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"leadline/analyse"
	"leadline/analyse/physical"
	"leadline/ingest"
	"leadline/ingest/dcm"
	"leadline/ingest/report"
)

// Two planes of one cavity: rectangles of 100 pixels length, 80 high on "colour", whose
// pixels are 0.1 mm, and 20 high on "oblong", whose pixels are 0.2 mm high. Both are
// 10 mm long; the discs are ellipses of 8 and 4 mm: π/4·10·8·4 mm³ = 251.3 mm³.
const (
	fourAxis, fourContour = "250,200 350,200", "250,160 350,160 350,240 250,240 250,160"
	twoAxis, twoContour   = "100,300 200,300", "100,290 200,290 200,310 100,310 100,290"
	bothML                = math.Pi / 4 * 10 * 8 * 4 / 1000
)

func concept(n report.Numeric, value, meaning string, modifiers ...dcm.Code) report.Numeric {
	n.Concept = code(value, "LN", meaning)
	for _, m := range modifiers {
		n.Modifiers = append(n.Modifiers, report.Modifier{Name: code("370129005", "SCT", "Measurement Method"), Value: m})
	}
	return n
}

func plane(axis, contour, image string) []report.Graphic {
	return []report.Graphic{drawing1("POLYLINE", axis, image), drawing1("POLYLINE", contour, image)}
}

func fourChamber(text string) report.Numeric {
	return concept(number(text, "mL", plane(fourAxis, fourContour, "colour")...), "79999-9", "")
}

func twoChamber(text string) report.Numeric {
	return concept(number(text, "mL", plane(twoAxis, twoContour, "oblong")...), "79998-1", "")
}

func biplaneNumber(text string, graphics ...report.Graphic) report.Numeric {
	return concept(number(text, "mL", graphics...), "18026-5", "", code("125207", "DCM", "Method of Disks, Biplane"))
}

// words tell a row: measure, value, verdict.
func biplaneRows(list []analyse.Measurement) []string {
	var rows []string
	for _, m := range list {
		if !strings.Contains(m.Measure, "biplane") {
			continue
		}
		text := string(m.Verdict) + " " + m.Reason
		if m.Rebuilt != nil {
			text = fmt.Sprintf("%.4f ", m.Rebuilt.Value) + text
		}
		rows = append(rows, strings.TrimSpace(text))
	}
	return rows
}

func TestBiplane(t *testing.T) {
	own := append(plane(fourAxis, fourContour, "colour"), plane(twoAxis, twoContour, "oblong")...)
	bare := []report.Graphic{own[1], own[3]}
	elsewhere := append(plane(fourAxis, fourContour, "colour"), plane(twoAxis, twoContour, "not there")...)
	suspect := append(plane(fourAxis, fourContour, "colour"), plane(twoAxis, twoContour, "suspect")...)
	another := fourChamber("0.50")
	another.Graphics[1].Points = points("250,161 350,161 350,240 250,240 250,161")
	for _, c := range []struct {
		name, want, note string
		numbers          []report.Numeric
	}{
		{"nothing reported", "0.2513 rebuilt-only", "measurements 1 and 2; no number was found for it; axes 10 and 10 mm", []report.Numeric{fourChamber("0.50"), twoChamber("0.13")}},
		{"a number alone", "0.2513 agrees", "from the contours of measurements 1 and 2", []report.Numeric{fourChamber("0.50"), biplaneNumber("0.25"), twoChamber("0.13")}},
		{"a number alone that differs", "0.2513 differs", "", []report.Numeric{fourChamber("0.50"), twoChamber("0.13"), biplaneNumber("0.50")}},
		{"its own calipers", "0.2513 agrees", "both images", []report.Numeric{biplaneNumber("0.25", own...)}},
		{"its own calipers beside those of the planes", "0.2513 agrees", "both images", []report.Numeric{fourChamber("0.50"), twoChamber("0.13"), biplaneNumber("0.25", own...)}},
		{"one plane", "", "", []report.Numeric{fourChamber("0.50")}},
		{"a number and one plane", "reported-only", "one plane alone", []report.Numeric{fourChamber("0.50"), biplaneNumber("0.25")}},
		{"contours without axes", "not-rebuilt unit-does-not-fit", "not one long axis for each", []report.Numeric{biplaneNumber("0.25", bare...)}},
		{"one plane under the name of two", "not-rebuilt unit-does-not-fit", "this is one", []report.Numeric{biplaneNumber("0.25", own[:2]...)}},
		{"an image that is not there", "not-rebuilt image-not-found", "second plane", []report.Numeric{biplaneNumber("0.25", elsewhere...)}},
		{"a suspect calibration", "0.2513 suspect", "bounds reach", []report.Numeric{biplaneNumber("0.25", suspect...)}},
		{"two takes of one plane", "not-rebuilt caliper-ambiguous", "2 contours in the four-chamber and 1", []report.Numeric{fourChamber("0.50"), another, twoChamber("0.13")}},
		{"the same contour twice", "0.2513 rebuilt-only", "", []report.Numeric{fourChamber("0.50"), fourChamber("0.50"), twoChamber("0.13")}},
		{"a number and two pairs", "reported-only, 0.2513 rebuilt-only, 0.2482 rebuilt-only", "several contours", []report.Numeric{fourChamber("0.50"), another, twoChamber("0.13"), func() report.Numeric {
			n := twoChamber("0.13")
			n.Graphics = plane("101,300 201,300", "101,290 201,290 201,310 101,310 101,290", "oblong")
			return n
		}(), biplaneNumber("0.25")}},
	} {
		list := Measurements(withReport(c.numbers...), nil, nil)
		if c.name == "a suspect calibration" {
			c.want = strings.Replace(c.want, "0.2513", fmt.Sprintf("%.4f", list[0].Rebuilt.Value), 1)
		}
		notes := ""
		for _, m := range list {
			if strings.Contains(m.Measure, "biplane") {
				notes += m.Note + "\n"
			}
		}
		if got := strings.Join(biplaneRows(list), ", "); got != c.want || !strings.Contains(notes, c.note) {
			t.Errorf("%s: got %q, want %q; note %q, want %q in it", c.name, got, c.want, notes, c.note)
		}
	}
}

// The row holds both planes, and the number stands behind those it is made of.
func TestBiplaneRow(t *testing.T) {
	list := Measurements(withReport(fourChamber("0.50"), twoChamber("0.13")), nil, nil)
	m := list[2]
	if m.Number != 3 || m.SOPUID != "colour" || m.Second == nil || m.Second.SOPUID != "oblong" || m.Second.Region != 1 ||
		m.Geometry != analyse.GeometryBiplane || m.Mode != analyse.Mode2D || math.Abs(m.Rebuilt.Value-bothML) > 1e-12 {
		t.Errorf("%+v", m)
	}
	other := m
	second := *m.Second
	second.Points = points("0,0")
	other.Second = &second
	if m.CaliperKey() == other.CaliperKey() {
		t.Error("another second plane has the same key")
	}
	// A volume of a longer and a shorter axis says how far they are apart.
	short := twoChamber("0.13")
	short.Graphics = plane("100,300 188,300", "100,290 188,290 188,310 100,310 100,290", "oblong")
	list = Measurements(withReport(fourChamber("0.50"), short), nil, nil)
	if m := list[2]; math.Abs(m.Rebuilt.Value-bothML) > 1e-12 || !strings.Contains(m.Note, "differ by 12 %") || !strings.Contains(m.Note, "no source") {
		t.Errorf("%+v", m)
	}
}

// Where the measure does not tell the plane, the view of the image does.
func TestPlanesByView(t *testing.T) {
	unsaid := func(n report.Numeric) report.Numeric {
		n.Concept = code("18026-5", "LN", "Left Ventricular End Diastolic Volume")
		return n
	}
	study := withReport(unsaid(fourChamber("0.50")), unsaid(twoChamber("0.13")))
	if list := Measurements(study, nil, nil); len(list) != 2 {
		t.Errorf("without views: %+v", list)
	}
	imagesOf(study)["colour"].Image.View.Code = code("399214001", "SCT", "Four chamber")
	imagesOf(study)["oblong"].Image.View.Code = code("G-A19B", "SRT", "Two chamber") // as older files write it
	if got := biplaneRows(Measurements(study, nil, nil)); len(got) != 1 || got[0] != "0.2513 rebuilt-only" {
		t.Errorf("with views: %v", got)
	}
}

// Rows of a table are put together by observer; the U of both planes is drawn from
// both placing errors and the tolerance, and every step can be followed.
func TestBiplaneOfTable(t *testing.T) {
	rows := []ingest.CaliperRow{
		row("colour", "discs|"+fourAxis+" "+fourContour+"|||LVEDV A4C"), row("oblong", "discs|"+twoAxis+" "+twoContour+"|||LVEDV A2C"),
		row("oblong", "discs|"+twoAxis+" "+twoContour+"|||LVESV A2C"), row("colour", "discs|"+fourAxis+" "+fourContour+"|||LVEDV A4C"),
	}
	rows[3].Observer = "another"
	study := sample()
	plain := Measurements(study, rows, nil)
	if got := biplaneRows(plain); len(got) != 1 || got[0] != "0.2513 rebuilt-only" {
		t.Fatalf("%v", got)
	}
	study.Uncertainty = analyse.UncertaintyRule{Protocol: "p", ScaleTolerance: 0.03, PlacementPX: map[string]float64{
		"lv-four-chamber-volume-diastole": 2 * physical.CoordinateStdU, "lv-two-chamber-volume-diastole": 2 * physical.CoordinateStdU}}
	u := Measurements(study, rows, nil)[4].Rebuilt.StdU
	if want := math.Hypot(2*plain[4].Rebuilt.StdU, 3*bothML*0.03/math.Sqrt(3)); math.Abs(u-want) > 1e-12 {
		t.Errorf("u %v, want %v", u, want)
	}
	followed := 0
	Explain(study, rows, nil, func(m *analyse.Measurement, work *physical.Work) {
		if m.Geometry != analyse.GeometryBiplane {
			return
		}
		followed++
		for _, problem := range checkSteps(m, work) {
			t.Error(problem)
		}
	})
	if followed != 1 {
		t.Errorf("%d biplane rows followed", followed)
	}
}

// Two observers who share the contour of one plane share its points, on the image of
// the second plane too, and with the single planes that the volumes are made of.
func TestBiplaneShares(t *testing.T) {
	four, two := row("colour", "discs|"+fourAxis+" "+fourContour+"|||LVEDV A4C"), row("oblong", "discs|"+twoAxis+" "+twoContour+"|||LVEDV A2C")
	other := row("colour", "discs|250,201 350,201 250,161 350,161 350,241 250,241|||LVEDV A4C")
	again := two
	other.Observer, again.Observer = "another", "another"
	list := Measurements(sample(), []ingest.CaliperRow{four, two, other, again}, nil)
	if got := biplaneRows(list); len(got) != 2 {
		t.Fatalf("%v", got)
	}
	common := map[string]int{}
	for _, c := range list[4].Shared {
		for _, d := range list[5].Shared {
			if c.Of == d.Of {
				common[c.Of.SOPUID]++
			}
		}
	}
	if common["colour"] != 0 || common["oblong"] == 0 {
		t.Errorf("shared by both volumes: %v", common)
	}
	for i, m := range list {
		sum := m.OwnU * m.OwnU
		for _, c := range m.Shared {
			sum += c.StdU * c.StdU
		}
		if math.Abs(math.Sqrt(sum)-m.Rebuilt.StdU) > 1e-12 {
			t.Errorf("measurement %d: parts make %v, u %v", i+1, math.Sqrt(sum), m.Rebuilt.StdU)
		}
	}
}

// The mode is that of the region; a number without a caliper has the one that its
// report says, by a modifier or by its concept.
func TestModes(t *testing.T) {
	alone := func(value string, modifiers ...dcm.Code) report.Numeric {
		return concept(number("17", "mm"), value, "", modifiers...)
	}
	strip := concept(number("20", "mm", drawing1("POLYLINE", "100,350 160,450", "mmode")), "80007-8", "")
	numbers := []report.Numeric{
		strip, concept(number("5", "mm", drawing1("POLYLINE", "100,100 130,140", "mmode")), "29436-3", ""), alone("29436-3"),
		alone("29436-3", code("G-0394", "SRT", "M mode")), alone("80007-8"), alone("80008-6"), concept(number("50", "cm/s", drawing1("POINT", "100,350", "pw")), "1", ""),
	}
	want := []analyse.Mode{analyse.ModeMMode, analyse.Mode2D, analyse.ModeUntold, analyse.ModeMMode, analyse.Mode2D, analyse.ModeMMode, analyse.ModeSpectral}
	for i, m := range Measurements(withReport(numbers...), nil, nil) {
		if m.Mode != want[i] {
			t.Errorf("number %d: mode %q, want %q (%s)", i+1, m.Mode, want[i], m.Note)
		}
	}
}
