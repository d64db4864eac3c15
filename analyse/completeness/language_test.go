package completeness

import (
	"testing"

	"leadline/analyse"
	"leadline/analyse/physical"
	"leadline/ingest"
	"leadline/ingest/dcm"
	"leadline/ingest/protocol"
)

// region is one of 100 by 50 pixels, at a row.
func region(ordinal int, row int32, format, data uint16) analyse.Region {
	index := func(n int32) dcm.Optional[ingest.Index] { return dcm.Some(ingest.Index(n)) }
	return analyse.Region{Raw: &ingest.Region{
		Ordinal: ordinal, SpatialFormat: dcm.Some(format), DataType: dcm.Some(data),
		MinX0: index(0), MinY0: index(row), MaxX1: index(99), MaxY1: index(row + 49),
	}}
}

// TestPlane holds the plane of a measurement: by the region that scaled it, by those
// that hold its caliper, by the modes of its image, and else not at all.
func TestPlane(t *testing.T) {
	picture, mmode := region(1, 0, ingest.Format2D, 1), region(2, 50, ingest.FormatMMode, 1)
	pulsed, continuous := region(2, 50, ingest.FormatSpectral, dataPW), region(2, 50, ingest.FormatSpectral, dataCW)
	unsaid := region(2, 50, ingest.FormatSpectral, 0)
	for _, c := range []struct {
		name, plane string
		regions     []analyse.Region
		modes       []string
		region      int
		y           float64
		caliper     bool
		want        analyse.ItemStatus
		note        string
	}{
		{"scaled by the strip", "m-mode", []analyse.Region{picture, mmode}, nil, 2, 70, true, analyse.Met, ""},
		{"scaled by the picture", "m-mode", []analyse.Region{picture, mmode}, nil, 1, 20, true, analyse.Partial, "measurement 3 was taken in a picture, an M-mode strip needed"},
		{"held by the picture", "2d", []analyse.Region{picture, mmode}, nil, 0, 20, true, analyse.Met, ""},
		{"pulsed is spectral", "spectral", []analyse.Region{picture, pulsed}, nil, 2, 70, true, analyse.Met, ""},
		{"pulsed", "pw", []analyse.Region{picture, pulsed}, nil, 2, 70, true, analyse.Met, ""},
		{"continuous is not pulsed", "pw", []analyse.Region{picture, continuous}, nil, 2, 70, true, analyse.Partial, "measurement 3 was taken in a continuous wave Doppler strip, a pulsed Doppler strip needed"},
		{"a spectrum of either kind", "cw", []analyse.Region{picture, unsaid}, nil, 2, 70, true, analyse.NotAssessable, "1 measurement does not tell whether it was taken in a continuous wave Doppler strip"},
		{"but no M-mode", "m-mode", []analyse.Region{picture, unsaid}, nil, 2, 70, true, analyse.Partial, "measurement 3 was taken in a Doppler strip, an M-mode strip needed"},
		{"no region, modes of one plane", "2d", nil, []string{"2d", "colour"}, 0, 20, true, analyse.Met, ""},
		{"no region, a strip alone", "cw", nil, []string{"cw"}, 0, 20, true, analyse.Met, ""},
		{"no region, picture and strip", "m-mode", nil, []string{"2d", "m-mode"}, 0, 20, true, analyse.NotAssessable, "1 measurement does not tell whether it was taken in an M-mode strip"},
		{"regions, and none holds it", "2d", []analyse.Region{picture, mmode}, []string{"2d", "m-mode"}, 0, 120, true, analyse.NotAssessable, "1 measurement does not tell whether it was taken in a picture"},
		{"a number alone", "2d", nil, nil, 0, 0, false, analyse.NotAssessable, "1 measurement does not tell whether it was taken in a picture"},
		{"not asked for", "", nil, nil, 0, 0, false, analyse.Met, ""},
	} {
		img := still(1, "PLAX", c.modes...)
		img.SOPInstanceUID, img.Regions = "1.1", c.regions
		s := study(img)
		m := analyse.Measurement{Number: 3, Measure: "tapse", Reported: &analyse.Reported{Value: 9}, Region: c.region}
		if c.caliper {
			m.SOPUID, m.Points = "1.1", []ingest.Point{{X: 5, Y: c.y}, {X: 9, Y: c.y + 10}}
		}
		s.Measurements = []analyse.Measurement{m}
		item, found, evidence := "kind: measure, measure: tapse", 0, ""
		if c.plane != "" {
			item += ", plane: " + c.plane
		}
		if c.want == analyse.Met {
			found, evidence = 1, "measurement 3"
		}
		expect(t, c.name, item, s, res(c.want, found, 1, evidence, c.note))
	}
}

// TestPlaneSaid takes the mode that a report says of a number alone.
func TestPlaneSaid(t *testing.T) {
	s := study(still(1, "PLAX", "2d"))
	s.Measurements = []analyse.Measurement{{Number: 3, Measure: "tapse", Reported: &analyse.Reported{Value: 9}, Mode: analyse.ModeMMode}}
	expect(t, "said to be M-mode", "kind: measure, measure: tapse, plane: m-mode", s, res(analyse.Met, 1, 1, "measurement 3", ""))
	expect(t, "and not greyscale", "kind: measure, measure: tapse, plane: 2d", s, res(analyse.Partial, 0, 1, "",
		"measurement 3 was taken in an M-mode strip, a picture needed"))
	s.Measurements[0].Mode = analyse.ModeTrace
	expect(t, "a trace is no plane", "kind: measure, measure: tapse, plane: 2d", s, res(analyse.NotAssessable, 0, 1, "",
		"1 measurement does not tell whether it was taken in a picture"))
}

// TestInReportWithCaliper holds where a measurement must stand and what it must have.
func TestInReportWithCaliper(t *testing.T) {
	const inReport, withCaliper = "kind: measure, measure: tapse, in-report: true", "kind: measure, measure: tapse, with-caliper: true"
	value, line := &analyse.Reported{Value: 9}, []ingest.Point{{X: 1, Y: 1}, {X: 2, Y: 2}}
	for _, c := range []struct {
		name, item string
		m          analyse.Measurement
		want       analyse.ItemResult
	}{
		{"in a report", inReport, analyse.Measurement{Source: analyse.SourceReport, Reported: value}, res(analyse.Met, 1, 1, "measurement 1", "")},
		{"in a table only", inReport, analyse.Measurement{Source: analyse.SourceTable, Reported: value}, res(analyse.Partial, 0, 1, "", "measurement 1 stands in no report")},
		{"a caliper of a report without its number", inReport, analyse.Measurement{Source: analyse.SourceReport, Points: line, Rebuilt: &physical.Quantity{}}, res(analyse.Partial, 0, 1, "", "measurement 1 stands in no report")},
		{"with a caliper", withCaliper, analyse.Measurement{Reported: value, Points: line}, res(analyse.Met, 1, 1, "measurement 1", "")},
		{"an interval between frames", withCaliper, analyse.Measurement{Reported: value, Geometry: ingest.GeometryFrames}, res(analyse.Met, 1, 1, "measurement 1", "")},
		{"a number alone", withCaliper, analyse.Measurement{Reported: value}, res(analyse.Partial, 0, 1, "", "measurement 1 has no caliper")},
	} {
		s := study(still(1, ""))
		c.m.Number, c.m.Measure = 1, "tapse"
		s.Measurements = []analyse.Measurement{c.m}
		expect(t, c.name, c.item, s, c.want)
	}
}

// TestOwnViews holds views by the words of a unit: an image known by them is known
// to be no other view.
func TestOwnViews(t *testing.T) {
	const own = `kind: image, view-names: ["Window 3", harbour], view-codes: [99WARD W3]`
	met := res(analyse.Met, 1, 1, "image 1", "")
	expect(t, "by name, whole", own, study(still(1, "WINDOW-3")), met)
	expect(t, "a longer name", own, study(still(1, "Window 3 b")), res(analyse.NotAssessable, 0, 1, "", "could not be judged: image 1 tells a view that is not known"))
	expect(t, "another view", own, study(still(1, "PLAX")), res(analyse.Missing, 0, 1, "", "none of the images (1) is known to show Window 3, harbour or 99WARD W3"))
	coded := still(1, "")
	coded.Instance.Image.View.Code = dcm.Code{Scheme: "99WARD", Value: "W3"}
	expect(t, "by code", own, study(coded), met)
	expect(t, "or a word of the vocabulary", `kind: image, view: subcostal, view-names: [harbour]`, study(still(1, "subcostal IVC")), met)

	p := mustItem(t, "kind: image, view: subcostal")
	other := mustItem(t, own)
	p.Items = append(p.Items, other.Items...)
	results, _ := Apply(study(still(1, "harbour")), p)
	if results[0].Status != analyse.Missing || results[1].Status != analyse.Met {
		t.Errorf("an image known by the unit's name: subcostal is %s, the own view %s", results[0].Status, results[1].Status)
	}
}

// TestOwnViewsAsked holds a unit's own words for views where they decide whether an
// item is asked for, and whether a protocol applies.
func TestOwnViewsAsked(t *testing.T) {
	const item = `kind: report, if: {view-names: [harbour], view-codes: [99WARD W3]}`
	asked := res(analyse.Missing, 0, 1, "", "no report")
	expect(t, "the name is there", item, study(still(1, "Harbour")), asked)
	coded := still(1, "")
	coded.Instance.Image.View.Code = dcm.Code{Scheme: "99WARD", Value: "W3"}
	expect(t, "the code is there", item, study(coded), asked)
	expect(t, "known views are others", item, study(still(1, "PLAX")), res(analyse.NotApplicable, 0, 0, "", "asked only where an image shows harbour or 99WARD W3"))
	expect(t, "no view is told", item, study(still(1, "")), res(analyse.NotAssessable, 0, 0, "",
		"asked only where an image shows harbour or 99WARD W3: 1 image has no known view code or view name, or that of a wider view, so it cannot be judged"))

	p := mustItem(t, "kind: report")
	p.When = protocol.When{Shown: protocol.Shown{ViewNames: []string{"harbour", "quay"}}, AtLeast: 2}
	if _, applies := Apply(study(still(1, "Harbour"), still(2, "PLAX")), p); applies {
		t.Error("a protocol of two views applies where one is")
	}
	if _, applies := Apply(study(still(1, "Harbour"), still(2, "QUAY")), p); !applies {
		t.Error("a protocol of two views does not apply where both are")
	}
	p = mustItem(t, "kind: image, view: subcostal")
	p.Items[0].If = &protocol.Condition{Shown: protocol.Shown{ViewNames: []string{"harbour"}}}
	if got, _ := Apply(study(still(1, "harbour")), p); got[0].Status != analyse.Missing {
		t.Errorf("an image that a condition names is known to be no other view, and the item %s", got[0].Status)
	}
}

// TestNearest tells the nearest misses first, and where the view was learned.
func TestNearest(t *testing.T) {
	images := []*analyse.Image{clip(1, "PLAX", 0.5, "2d"), clip(2, "PLAX", 1.9, "2d"), clip(3, "PLAX", 1.2, "2d")}
	images[1].ViewFrom = "labels ours.csv, row 3"
	images[1].ModesFrom = "labels ours.csv, row 3"
	const item = "kind: image, view: parasternal-long-axis, mode: 2d, type: clip, min-seconds: 2, count: 2"
	expect(t, "three too short", item, study(images...), res(analyse.Partial, 0, 2, "",
		"0 of 2 clips; image 2 (view and mode from labels ours.csv, row 3) lasts 1.9 s, 2 s needed; image 3 lasts 1.2 s, 2 s needed; and 1 more of the view"))
	mixed := study(clip(1, "PLAX", 3, "2d"), clip(2, "PLAX", 1, "2d"), clip(3, "", 3, "2d"), clip(4, "", 3, "2d"), clip(5, "loop nineteen", 3, "2d"))
	expect(t, "apart from what cannot be judged", item, mixed, res(analyse.NotAssessable, 1, 2, "image 1",
		"1 of 2 clips; could not be judged: 2 images tell no view, image 5 tells a view that is not known; image 2 lasts 1 s, 2 s needed"))
}

// TestPlausibleOfImages holds the numbers of images against the bounds of a fact.
func TestPlausibleOfImages(t *testing.T) {
	s := study(still(1, ""), still(2, ""), still(3, ""))
	const depth = "kind: header, fact: image-depth, min: 20, max: 90"
	s.Images[0].DepthMM, s.Images[1].DepthMM = dcm.Some(60.0), dcm.Some(600.0)
	expect(t, "one plausible, one not, one without", depth, s, res(analyse.Partial, 1, 3, "header of 1 image",
		"2 of 3 images with it; 1 image has it, but not within 20 to 90 mm"))
	s.Images[0].DepthMM, s.Images[2].DepthMM = dcm.Some(600.0), dcm.Some(6.0)
	expect(t, "none plausible", depth, s, res(analyse.Partial, 0, 3, "", "3 images have it, but not within 20 to 90 mm"))
}

// TestSeverity gives a result the severity of its item, warning where it has none.
func TestSeverity(t *testing.T) {
	for item, want := range map[string]analyse.Severity{"kind: report": analyse.Warning, "kind: report, severity: error": analyse.Error, "kind: report, severity: note": analyse.Note} {
		results, _ := Apply(study(still(1, "")), mustItem(t, item))
		if results[0].Severity != want {
			t.Errorf("%s: %s, want %s", item, results[0].Severity, want)
		}
	}
}
