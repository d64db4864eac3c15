package completeness

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"leadline/analyse"
	"leadline/analyse/measures"
	"leadline/analyse/physical"
	"leadline/ingest"
	"leadline/ingest/dcm"
	"leadline/ingest/protocol"
	"leadline/ingest/report"
)

// mustItem parses one item, written as the inside of a flow mapping.
func mustItem(t *testing.T, item string) *protocol.Protocol {
	t.Helper()
	p, err := protocol.Parse("test.yaml", []byte(`
language: 1
name: test
version: 1
title: Test
sources: {unit: local policy}
when: {body-parts: HEART}
items:
  - {id: it, title: It, sources: unit, `+item+"}\n"))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// img makes an image of study time 10:00 plus its number in minutes. A view that
// begins with a digit is a SNOMED CT code, else a name.
func img(number int64, view string, kind analyse.ImageKind, seconds float64, modes ...string) *analyse.Image {
	inst := &ingest.Instance{
		InstanceNumber: dcm.Some(number), Image: &ingest.Image{Frames: 1},
		Study: &ingest.Study{}, Series: &ingest.Series{BodyPart: "HEART"}, Device: &ingest.Device{},
	}
	if view != "" && view[0] >= '0' && view[0] <= '9' {
		inst.Image.View.Code = dcm.Code{Value: view, Scheme: "SCT"}
	} else {
		inst.Image.View.Name = view
	}
	i := &analyse.Image{Instance: inst, Picture: &analyse.Picture{Kind: kind, Modes: modes}, Acquired: at(10, int(number))}
	known, side, _ := protocol.ViewOf(inst.Image.View.Code, inst.Image.View.Name)
	i.View, i.ViewID, i.ViewSide = view, known.ID, side
	if kind == analyse.Clip {
		inst.Image.Frames = 30
		if seconds > 0 {
			i.DurationS = dcm.Some(seconds)
		}
	}
	return i
}

func at(hour, minute int) ingest.Stamp {
	return ingest.Stamp{T: time.Date(2031, 5, 1, hour, minute, 0, 0, time.UTC), HasTime: true}
}

func clip(n int64, view string, seconds float64, modes ...string) *analyse.Image {
	return img(n, view, analyse.Clip, seconds, modes...)
}

func still(n int64, view string, modes ...string) *analyse.Image {
	return img(n, view, analyse.Still, 0, modes...)
}

func study(images ...*analyse.Image) *analyse.Study {
	s := &analyse.Study{Images: images, Header: &ingest.Study{}, Patient: &ingest.Patient{}}
	if len(images) > 0 {
		s.First, s.Last = images[0].Acquired, images[len(images)-1].Acquired
	}
	return s
}

// expect applies the one item and compares status, counts, evidence and note.
func expect(t *testing.T, name, item string, s *analyse.Study, want analyse.ItemResult) {
	t.Helper()
	if len(s.Images)+len(s.Reports) == 0 {
		t.Fatalf("%s: a study without anything; no protocol applies", name)
	}
	results, applies := Apply(s, mustItem(t, item))
	if !applies || len(results) != 1 {
		t.Fatalf("%s: applies %v, %d results", name, applies, len(results))
	}
	got := results[0]
	want.Protocol, want.Item, want.Title, want.ProtocolTitle = "test", "it", "It", "Test"
	want.Kind, want.Required, want.Severity = got.Kind, got.Required, got.Severity
	if got != want {
		t.Errorf("%s:\ngot  %s %d/%d %q %q\nwant %s %d/%d %q %q", name, got.Status, got.Found, got.Needed, got.Evidence, got.Note,
			want.Status, want.Found, want.Needed, want.Evidence, want.Note)
	}
}

func res(status analyse.ItemStatus, found, needed int, evidence, note string) analyse.ItemResult {
	return analyse.ItemResult{Status: status, Found: found, Needed: needed, Evidence: evidence, Note: note}
}

// TestNarrowed holds device and age: only what the header says otherwise leaves a
// study out.
func TestNarrowed(t *testing.T) {
	for _, c := range []struct {
		name, limits, device, birth string
		applies                     bool
	}{
		{"no limits", "", "Tern", "20310401", true},
		{"the device", "devices: [tern, petrel]", "Tern 2", "", true},
		{"another device", "devices: [petrel]", "Tern 2", "", false},
		{"a part of a word is no word", "devices: [ter]", "Tern 2", "", false},
		{"no device named", "devices: [petrel]", "", "", true},
		{"young enough", "max-age-days: 30", "", "20310402", true},
		{"too old", "max-age-days: 28", "", "20310302", false},
		{"too young", "min-age-days: 7", "", "20310430", false},
		{"old enough", "min-age-days: 7", "", "20310401", true},
		{"no birth date", "max-age-days: 28", "", "", true},
		{"one of both", "devices: [tern], max-age-days: 28", "Tern", "20310101", false},
	} {
		p, err := protocol.Parse("test.yaml", []byte("language: 1\nname: p\nversion: 1\ntitle: P\nsources: {u: local}\nwhen: {"+
			strings.TrimSuffix("body-parts: HEART, "+c.limits, ", ")+"}\nitems:\n  - {id: a, title: A, sources: u, kind: report}\n"))
		if err != nil {
			t.Fatal(err)
		}
		s := study(still(1, "PLAX", "2d"))
		s.Images[0].Device = &ingest.Device{Model: c.device}
		s.Start, s.Patient = at(10, 0), &ingest.Patient{BirthDate: c.birth}
		if _, applies := Applies(s, p); applies != c.applies {
			t.Errorf("%s: applies %t", c.name, applies)
		}
	}
}

// TestTaken holds what a rule says of how an image is taken: what the header does
// not say is never held against the image.
func TestTaken(t *testing.T) {
	const plax = "399139001"
	taken := func(rate, depth float64, calibration string) *analyse.Image {
		i := clip(7, plax, 2, "2d")
		if rate > 0 {
			i.FrameRateHz = dcm.Some(rate)
		}
		if depth > 0 {
			i.DepthMM = dcm.Some(depth)
		}
		i.Calibration = calibration
		return i
	}
	met := res(analyse.Met, 1, 1, "image 7", "")
	partial := func(note string) analyse.ItemResult { return res(analyse.Partial, 0, 1, "", "image 7 "+note) }
	for _, c := range []struct {
		keys string
		img  *analyse.Image
		want analyse.ItemResult
	}{
		{"min-frame-rate: 40", taken(40, 0, ""), met},
		{"min-frame-rate: 40", taken(25.5, 0, ""), partial("has 25.5 frames a second, 40 needed")},
		{"min-frame-rate: 40", taken(0, 0, ""), res(analyse.NotAssessable, 0, 1, "", "could not be judged: image 7 tells no frame rate")},
		{"min-depth-mm: 40, max-depth-mm: 80", taken(0, 60, ""), met},
		{"min-depth-mm: 40", taken(0, 30, ""), partial("is 30 mm deep, 40 mm needed")},
		{"max-depth-mm: 80", taken(0, 120, ""), partial("is 120 mm deep, at most 80 mm needed")},
		{"max-depth-mm: 80", taken(0, 0, ""), res(analyse.NotAssessable, 0, 1, "", "could not be judged: image 7 tells no depth")},
		{"calibrated: true", taken(0, 0, "region"), met},
		{"calibrated: true", taken(0, 0, "pixel-spacing"), met},
		{"calibrated: true", taken(0, 0, "none"), partial("has no calibration")},
		{"calibrated: true", taken(0, 0, "region (suspect)"), partial("has a calibration that contradicts it")},
		{"calibrated: false", taken(0, 0, "none"), met},
		{"min-frame-rate: 40, calibrated: true", taken(0, 0, "none"), partial("has no calibration")},
	} {
		expect(t, c.keys, "kind: image, view: parasternal-long-axis, type: clip, "+c.keys, study(c.img), c.want)
	}
}

func TestImages(t *testing.T) {
	const plax = "399139001"
	const three = "kind: image, view: parasternal-long-axis, mode: 2d, type: clip, count: 3, min-seconds: 2"
	const one = "kind: image, view: parasternal-long-axis, mode: 2d, type: clip, min-seconds: 1"
	for _, c := range []struct {
		name, item string
		images     []*analyse.Image
		want       analyse.ItemResult
	}{
		{"by code", one, []*analyse.Image{clip(4, plax, 2, "2d")}, res(analyse.Met, 1, 1, "image 4", "")},
		{"by name, and the code of another scheme counts for nothing", one, []*analyse.Image{clip(4, "PLAX", 2, "2d")}, res(analyse.Met, 1, 1, "image 4", "")},
		{"more than needed", one, []*analyse.Image{clip(4, plax, 2, "2d"), clip(7, "PLAX", 1, "2d")}, res(analyse.Met, 2, 1, "image 4; image 7", "")},
		{"two of three, the third too short", three, []*analyse.Image{clip(4, plax, 2, "2d"), clip(5, plax, 3, "2d"), clip(7, plax, 1.2, "2d")},
			res(analyse.Partial, 2, 3, "image 4; image 5", "2 of 3 clips; image 7 lasts 1.2 s, 2 s needed")},
		{"only a short one", one, []*analyse.Image{clip(7, plax, 0.5, "2d")}, res(analyse.Partial, 0, 1, "", "image 7 lasts 0.5 s, 1 s needed")},
		{"another mode", one, []*analyse.Image{clip(7, plax, 2, "2d", "colour")}, res(analyse.Missing, 0, 1, "", "image 7 shows the view as a clip, 2D and colour; a 2D clip needed")},
		{"a still", one, []*analyse.Image{still(7, plax, "2d")}, res(analyse.Missing, 0, 1, "", "image 7 shows the view as a still, 2D; a 2D clip needed")},
		{"another view", one, []*analyse.Image{clip(7, "399214001", 2, "2d")}, res(analyse.Missing, 0, 1, "", "none of the images (1) is known to show parasternal long axis")},
		{"unlabelled and fitting", one, []*analyse.Image{clip(7, "", 2, "2d")},
			res(analyse.NotAssessable, 0, 1, "", "could not be judged: image 7 tells no view")},
		{"a name nobody knows is no label", one, []*analyse.Image{clip(7, "loop nineteen", 2, "2d"), clip(8, "x", 2, "2d")},
			res(analyse.NotAssessable, 0, 1, "", "could not be judged: 2 images tell a view that is not known")},
		{"unlabelled, but a still", one, []*analyse.Image{still(7, "", "2d")}, res(analyse.Missing, 0, 1, "", "none of the images (1) is known to show parasternal long axis")},
		{"unlabelled, but too short", one, []*analyse.Image{clip(7, "", 0.2, "2d")}, res(analyse.Missing, 0, 1, "", "none of the images (1) is known to show parasternal long axis")},
		{"one labelled, one not, two needed", one + ", count: 2", []*analyse.Image{clip(4, plax, 2, "2d"), clip(7, "", 2, "2d")},
			res(analyse.NotAssessable, 1, 2, "image 4", "1 of 2 clips; could not be judged: image 7 tells no view")},
		{"one labelled, one not, three needed: surely short", three, []*analyse.Image{clip(4, plax, 2, "2d"), clip(7, "", 2, "2d")},
			res(analyse.Partial, 1, 3, "image 4", "1 of 3 clips; could not be judged: image 7 tells no view")},
		{"mode unknown", one, []*analyse.Image{clip(7, plax, 2)},
			res(analyse.NotAssessable, 0, 1, "", "could not be judged: image 7 tells no mode")},
		{"length unknown", one, []*analyse.Image{clip(7, plax, 0, "2d")},
			res(analyse.NotAssessable, 0, 1, "", "could not be judged: image 7 tells no length")},
		{"too few frames", "kind: image, view: parasternal-long-axis, type: clip, min-frames: 60", []*analyse.Image{clip(7, plax, 2, "2d")},
			res(analyse.Partial, 0, 1, "", "image 7 has 30 frames, 60 needed")},
		{"a narrower view counts", "kind: image, view: subcostal", []*analyse.Image{still(3, "subcostal IVC", "2d")}, res(analyse.Met, 1, 1, "image 3", "")},
		{"a wider one may be it", "kind: image, view: subcostal-long-axis", []*analyse.Image{still(3, "subcostal", "2d")},
			res(analyse.NotAssessable, 0, 1, "", "could not be judged: image 3 tells only the wider view subcostal")},
		{"one beside it does not", "kind: image, view: subcostal-long-axis", []*analyse.Image{still(3, "subcostal IVC", "2d")}, res(analyse.Missing, 0, 1, "", "none of the images (1) is known to show subcostal long axis")},
		{"spectral by pulsed wave", "kind: image, view: apical-five-chamber, mode: spectral", []*analyse.Image{still(3, "A5C", "2d", "colour", "pw")}, res(analyse.Met, 1, 1, "image 3", "")},
		{"a strip with colour is no colour picture", "kind: image, view: apical-five-chamber, mode: colour", []*analyse.Image{still(3, "A5C", "2d", "colour", "pw")},
			res(analyse.Missing, 0, 1, "", "image 3 shows the view as a still, 2D, colour and pulsed wave; a colour image needed")},
		{"side by name", "kind: image, view: lung-lateral, side: left", []*analyse.Image{still(3, "lung lateral L", "2d")}, res(analyse.Met, 1, 1, "image 3", "")},
		{"other side", "kind: image, view: lung-lateral, side: left", []*analyse.Image{still(3, "lung lateral R", "2d")}, res(analyse.Missing, 0, 1, "", "image 3 shows the view on the right; an image on the left needed")},
		{"no side", "kind: image, view: lung-lateral, side: left", []*analyse.Image{still(3, "lung lateral", "2d")},
			res(analyse.NotAssessable, 0, 1, "", "could not be judged: image 3 tells no side")},
		{"the same instance number twice is no name", "kind: image, view: subcostal", []*analyse.Image{still(1, "subcostal"), still(1, "subcostal")},
			res(analyse.Met, 2, 1, "image in row 1 of the study; image in row 2 of the study", "")},
	} {
		expect(t, c.name, c.item, study(c.images...), c.want)
	}
	coded := still(3, "", "2d")
	coded.Instance.Image.ImageLaterality = "L"
	coded.ViewID = "lung-lateral"
	expect(t, "side by header", "kind: image, view: lung-lateral, side: left", study(coded), res(analyse.Met, 1, 1, "image 3", ""))
}

func TestMeasures(t *testing.T) {
	q := &physical.Quantity{Value: 18, StdU: 0.1, Unit: physical.MM}
	rep := &analyse.Reported{Value: 1.8, Text: "1.8", Unit: "cm"}
	line := []ingest.Point{{X: 1, Y: 2}, {X: 3, Y: 4}}
	m := func(n int, id string, edit func(*analyse.Measurement)) analyse.Measurement {
		x := analyse.Measurement{Number: n, Measure: id, Rebuilt: q, Reported: rep, Verdict: analyse.VerdictAgrees, SOPUID: fmt.Sprint("1.", n), Points: line}
		if edit != nil {
			edit(&x)
		}
		return x
	}
	only := func(x *analyse.Measurement) {
		x.Rebuilt, x.Points, x.Verdict = nil, nil, analyse.VerdictReportedOnly
	}
	suspect := func(x *analyse.Measurement) { x.Verdict = analyse.VerdictSuspect }
	differs := func(x *analyse.Measurement) { x.Verdict = analyse.VerdictDiffers }
	failed := func(x *analyse.Measurement) { x.Rebuilt, x.Verdict = nil, analyse.VerdictNotRebuilt }
	empty := func(x *analyse.Measurement) {
		x.Rebuilt, x.Reported, x.Points, x.Verdict = nil, nil, nil, analyse.VerdictNotRebuilt
	}
	left := func(x *analyse.Measurement) { x.Side = "left" }
	right := func(x *analyse.Measurement) { x.Side = "right" }
	const tapse, calibrated = "kind: measure, measure: tapse", "kind: measure, measure: tapse, calibrated: true"
	for _, c := range []struct {
		name, item string
		have       []analyse.Measurement
		want       analyse.ItemResult
	}{
		{"there", tapse, []analyse.Measurement{m(3, "tapse", nil)}, res(analyse.Met, 1, 1, "measurement 3", "")},
		{"none", tapse, nil, res(analyse.Missing, 0, 1, "", "no such measurement among those of the study (0)")},
		{"another", tapse, []analyse.Measurement{m(3, "mapse", nil)}, res(analyse.Missing, 0, 1, "", "no such measurement among those of the study (1)")},
		{"one of several measures", "kind: measure, measure: [tapse, mapse]", []analyse.Measurement{m(3, "mapse", nil)}, res(analyse.Met, 1, 1, "measurement 3", "")},
		{"a label that is not known", tapse, []analyse.Measurement{m(3, "", nil)},
			res(analyse.Missing, 0, 1, "", "1 measurement of the study has a label that is not known and may be it")},
		{"reported only serves where no calibration is asked for", tapse, []analyse.Measurement{m(3, "tapse", only)}, res(analyse.Met, 1, 1, "measurement 3", "")},
		{"and not where it is", calibrated, []analyse.Measurement{m(3, "tapse", only)}, res(analyse.Partial, 0, 1, "", "measurement 3 is reported only: there is no caliper to rebuild it from")},
		{"a caliper without calibration", calibrated, []analyse.Measurement{m(3, "tapse", failed)}, res(analyse.Partial, 0, 1, "", "measurement 3 could not be rebuilt from its caliper")},
		{"suspect", calibrated, []analyse.Measurement{m(3, "tapse", suspect)}, res(analyse.Partial, 0, 1, "", "measurement 3 is suspect: its calibration contradicts its image")},
		{"a differing value was measured all the same", calibrated, []analyse.Measurement{m(3, "tapse", differs)}, res(analyse.Met, 1, 1, "measurement 3", "")},
		{"no value", tapse, []analyse.Measurement{m(3, "tapse", empty)}, res(analyse.Partial, 0, 1, "", "measurement 3 has no value")},
		{"two of three repeats", tapse + ", count: 3", []analyse.Measurement{m(1, "tapse", nil), m(2, "tapse", nil)}, res(analyse.Partial, 2, 3, "measurement 1; measurement 2", "2 of 3 measurements")},
		{"the same caliper twice counts once", tapse + ", count: 2",
			[]analyse.Measurement{m(1, "tapse", nil), m(2, "tapse", func(x *analyse.Measurement) { x.SOPUID = "1.1" })}, res(analyse.Partial, 1, 2, "measurement 1", "1 of 2 measurements")},
		{"side", "kind: measure, measure: ventricular-index, side: left", []analyse.Measurement{m(1, "ventricular-index", right), m(2, "ventricular-index", left)}, res(analyse.Met, 1, 1, "measurement 2", "")},
		{"other side only", "kind: measure, measure: ventricular-index, side: left", []analyse.Measurement{m(1, "ventricular-index", right)}, res(analyse.Missing, 0, 1, "", "measurement 1 is of the right, left needed")},
		{"no side", "kind: measure, measure: ventricular-index, side: left", []analyse.Measurement{m(1, "ventricular-index", nil)}, res(analyse.NotAssessable, 0, 1, "", "1 without a side, left needed")},
	} {
		s := study(still(1, ""))
		s.Measurements = c.have
		expect(t, c.name, c.item, s, c.want)
	}
}

func TestIndex(t *testing.T) {
	s := study(still(1, ""))
	const item = "kind: index, index: fractional-shortening"
	expect(t, "not listed", item, s, res(analyse.Missing, 0, 1, "", "no measurement that the index needs was found"))
	s.Indices = []analyse.Index{{IndexKind: &analyse.IndexKind{ID: "fractional-shortening"}, Note: "no diameter in systole"}}
	expect(t, "without a value", item, s, res(analyse.Missing, 0, 1, "", "no diameter in systole"))
	s.Indices[0].Value = &physical.Quantity{Value: 33, Unit: physical.Percent}
	s.Indices[0].Inputs = []string{"measurement 1", "measurement 2"}
	expect(t, "with a value", item, s, res(analyse.Met, 1, 1, "measurement 1; measurement 2", ""))
}

func TestHeader(t *testing.T) {
	s := study(still(1, ""), still(2, ""))
	const weight = "kind: header, fact: patient-weight, min: 0.2, max: 10"
	expect(t, "no weight", weight, s, res(analyse.Missing, 0, 1, "", "not filled in"))
	s.Patient.WeightKg = dcm.Some(0.0)
	expect(t, "zero is not filled in", weight, s, res(analyse.Missing, 0, 1, "", "not filled in"))
	s.Patient.WeightKg = dcm.Some(3200.0)
	expect(t, "grams; the value is not told", weight, s, res(analyse.Partial, 0, 1, "", "filled in, but not within 0.2 to 10 kg"))
	s.Patient.WeightKg = dcm.Some(3.2)
	expect(t, "weight", weight, s, res(analyse.Met, 1, 1, "header", ""))

	const serial = "kind: header, fact: device-serial-number"
	expect(t, "no serial", serial, s, res(analyse.Missing, 0, 2, "", "not filled in; none of the images (2) has it"))
	s.Images[0].Device.Serial = "LL-1"
	expect(t, "one of two", serial, s, res(analyse.Partial, 1, 2, "header of 1 image", "1 of 2 images with it"))
	s.Images[1].Device.Serial = "LL-1"
	expect(t, "both", serial, s, res(analyse.Met, 2, 2, "header of 2 images", ""))

	reportOnly := study()
	reportOnly.Reports = []*ingest.Instance{{Report: &report.Document{}, Study: &ingest.Study{}, Series: &ingest.Series{BodyPart: "HEART"}}}
	expect(t, "no image to ask", serial, reportOnly, res(analyse.NotAssessable, 0, 0, "", "asked of images, and the study has none"))
}

// Every fact of the language is looked up somewhere: filled with everything, a
// study has them all; empty, none.
func TestFacts(t *testing.T) {
	filled := still(1, "A4C")
	filled.Device = &ingest.Device{Manufacturer: "m", Model: "m", Serial: "s", Software: "s", Station: "s", Transducer: "t"}
	filled.DepthMM, filled.ThermalIndex = dcm.Some(60.0), dcm.Some(0.4)
	filled.Instance.Image.Acoustic.Mechanical = dcm.Some(0.8)
	filled.Instance.Image.ImageLaterality = "L"
	filled.Instance.Image.Timing.HeartRate = dcm.Some(140.0)
	full := newView(&analyse.Study{
		Images: []*analyse.Image{filled}, Operators: []string{"someone"},
		Patient: &ingest.Patient{Name: "n", ID: "i", BirthDate: "20310501", Sex: "F", SizeM: dcm.Some(0.5), WeightKg: dcm.Some(3.0)},
		Header:  &ingest.Study{ID: "1", AccessionNumber: "2", Description: "d", Start: at(9, 0), Institution: "i"},
	})
	bare := newView(&analyse.Study{Images: []*analyse.Image{{Instance: &ingest.Instance{Image: &ingest.Image{}}, Picture: &analyse.Picture{}}}})
	for _, name := range protocol.Facts {
		if f := full.fact(name); f.found != 1 || f.asked != 1 {
			t.Errorf("%s: %d of %d where everything is filled in", name, f.found, f.asked)
		}
		if f := bare.fact(name); f.found != 0 || f.asked != 1 {
			t.Errorf("%s: %d of %d where nothing is filled in", name, f.found, f.asked)
		}
	}
}

func TestReport(t *testing.T) {
	sr := func(completion, verification string, when ingest.Stamp) *ingest.Instance {
		return &ingest.Instance{Report: &report.Document{CompletionFlag: completion, VerificationFlag: verification}, Content: when,
			Study: &ingest.Study{}, Series: &ingest.Series{}}
	}
	zoned := at(12, 0)
	zoned.Zone = true
	const complete, inTime = "kind: report, state: complete", "kind: report, state: complete, within-hours: 2"
	for _, c := range []struct {
		name, item string
		reports    []*ingest.Instance
		want       analyse.ItemResult
	}{
		{"none", complete, nil, res(analyse.Missing, 0, 1, "", "no report")},
		{"any state", "kind: report", []*ingest.Instance{sr("PARTIAL", "UNVERIFIED", at(11, 0))}, res(analyse.Met, 1, 1, "report 1", "")},
		{"partial", complete, []*ingest.Instance{sr("PARTIAL", "UNVERIFIED", at(11, 0))}, res(analyse.Partial, 0, 1, "", "report 1 is partial; complete needed")},
		{"complete", complete, []*ingest.Instance{sr("COMPLETE", "UNVERIFIED", at(11, 0))}, res(analyse.Met, 1, 1, "report 1", "")},
		{"verified is complete too", complete, []*ingest.Instance{sr("PARTIAL", "", at(11, 0)), sr("COMPLETE", "VERIFIED", at(11, 0))}, res(analyse.Met, 1, 1, "report 2", "")},
		{"not verified", "kind: report, state: verified", []*ingest.Instance{sr("COMPLETE", "UNVERIFIED", at(11, 0))}, res(analyse.Partial, 0, 1, "", "report 1 is complete; verified needed")},
		{"no flag", complete, []*ingest.Instance{sr("", "", at(11, 0))}, res(analyse.NotAssessable, 0, 1, "", "a report has no Completion Flag")},
		{"in time", inTime, []*ingest.Instance{sr("COMPLETE", "", at(11, 35))}, res(analyse.Met, 1, 1, "report 1", "1.5 h after the last image")},
		{"the earliest counts", inTime, []*ingest.Instance{sr("COMPLETE", "", at(20, 0)), sr("COMPLETE", "", at(11, 5))}, res(analyse.Met, 1, 1, "report 1; report 2", "1.0 h after the last image")},
		{"late", inTime, []*ingest.Instance{sr("COMPLETE", "", at(13, 5))}, res(analyse.Partial, 1, 1, "report 1", "3.0 h after the last image, at most 2 h wanted")},
		{"during the study", inTime, []*ingest.Instance{sr("COMPLETE", "", at(10, 2))}, res(analyse.Met, 1, 1, "report 1", "dated 0.1 h before the last image")},
		{"before the study", inTime, []*ingest.Instance{sr("COMPLETE", "", at(9, 0))}, res(analyse.NotAssessable, 1, 1, "report 1", "the report is dated before the first image: the clocks disagree")},
		{"no time", inTime, []*ingest.Instance{sr("COMPLETE", "", ingest.Stamp{})}, res(analyse.NotAssessable, 1, 1, "report 1", "the report has no time")},
		{"one clock with a zone", inTime, []*ingest.Instance{sr("COMPLETE", "", zoned)}, res(analyse.NotAssessable, 1, 1, "report 1", "only one of the two clocks says its time zone")},
	} {
		s := study(still(1, ""), still(5, "")) // last image at 10:05
		s.Reports = c.reports
		expect(t, c.name, c.item, s, c.want)
	}
	s := study(still(1, ""))
	s.Last = ingest.Stamp{}
	s.Reports = []*ingest.Instance{sr("COMPLETE", "", at(11, 0))}
	expect(t, "images without time", inTime, s, res(analyse.NotAssessable, 1, 1, "report 1", "the last image has no time"))
}

func TestConditionsAndGroups(t *testing.T) {
	duct := analyse.Measurement{Number: 1, Measure: "duct-diameter", Reported: &analyse.Reported{Value: 2}}
	const strip = "kind: image, view: high-parasternal, mode: spectral, if: {measure: duct-diameter}"
	s := study(still(1, "PLAX", "2d"))
	expect(t, "condition does not hold", strip, s, res(analyse.NotApplicable, 0, 0, "", "asked only where one of these was measured: Ductus arteriosus, smallest diameter"))
	s.Measurements = []analyse.Measurement{duct}
	expect(t, "condition holds", strip, s, res(analyse.Missing, 0, 1, "", "none of the images (1) is known to show high parasternal"))

	const seen = "kind: report, if: {view: [subcostal, suprasternal]}"
	expect(t, "no such view", seen, s, res(analyse.NotApplicable, 0, 0, "", "asked only where an image shows subcostal or suprasternal"))
	expect(t, "such a view", seen, study(still(1, "subcostal IVC")), res(analyse.Missing, 0, 1, "", "no report"))
	expect(t, "perhaps such a view", seen, study(still(1, "")), res(analyse.NotAssessable, 0, 0, "",
		"asked only where an image shows subcostal or suprasternal: 1 image has no known view code or view name, or that of a wider view, so it cannot be judged"))
	expect(t, "a wider view", "kind: report, if: {view: subcostal-long-axis}", study(still(1, "subcostal", "2d")), res(analyse.NotAssessable, 0, 0, "",
		"asked only where an image shows subcostal long axis: 1 image has no known view code or view name, or that of a wider view, so it cannot be judged"))
	expect(t, "a fact", "kind: report, if: {fact: operator}", s, res(analyse.NotApplicable, 0, 0, "", "asked only where the header has operator"))

	const either = "any-of: [{kind: measure, measure: lv-outflow-vti}, {kind: image, view: apical-five-chamber, mode: spectral}]"
	expect(t, "neither", either, study(still(1, "PLAX", "2d")), res(analyse.Missing, 0, 1, "", "no such measurement among those of the study (0); or: none of the images (1) is known to show apical five chamber"))
	expect(t, "the second", either, study(still(1, "A5C", "pw")), res(analyse.Met, 1, 1, "image 1", ""))
	expect(t, "perhaps the second", either, study(still(1, "", "pw")), res(analyse.NotAssessable, 0, 1, "",
		"no such measurement among those of the study (0); or: could not be judged: image 1 tells no view"))
	none := study(still(1, "A5C", "2d"))
	none.Measurements = []analyse.Measurement{{Number: 2, Measure: "lv-outflow-vti"}}
	expect(t, "both near", either, none, res(analyse.Partial, 0, 1, "", "measurement 2 has no value; or: image 1 shows the view as a still, 2D; a spectral image needed"))
}

func TestApplies(t *testing.T) {
	p, err := protocol.Load("newborn-heart-function")
	if err != nil {
		t.Fatal(err)
	}
	bare := func() *analyse.Study {
		i := still(1, "")
		i.Series.BodyPart = ""
		return study(i)
	}
	for _, c := range []struct {
		name string
		edit func(*analyse.Study)
		why  string
	}{
		{"nothing at all", func(*analyse.Study) {}, ""},
		{"body part", func(s *analyse.Study) { s.Images[0].Series.BodyPart = "heart " }, "Body Part Examined HEART"},
		{"another body part", func(s *analyse.Study) { s.Images[0].Series.BodyPart = "HEAD" }, ""},
		{"region in an old code", func(s *analyse.Study) {
			s.Images[0].Instance.Image.AnatomicRegions = []dcm.Code{{Value: "T-32600", Scheme: "SRT"}}
		}, "anatomic region SCT 87878005"},
		{"procedure", func(s *analyse.Study) {
			s.Images[0].Instance.Study.ProcedureCode = dcm.Code{Value: "431852008", Scheme: "SCT"}
		}, "procedure code SCT 431852008"},
		{"words", func(s *analyse.Study) { s.Images[0].Series.Description = "Echokardiographie bettseitig" }, "description with echokardiogra*"},
		{"image type", func(s *analyse.Study) {
			s.Images[0].Instance.Image.ImageType = []string{"ORIGINAL", "PRIMARY", "TTE", "0001"}
		}, "Image Type TTE"},
		{"one view is too little", func(s *analyse.Study) { s.Images[0].ViewID = "parasternal-long-axis" }, ""},
		{"a view and a measure", func(s *analyse.Study) {
			s.Images[0].ViewID = "parasternal-long-axis"
			s.Measurements = []analyse.Measurement{{Measure: "tapse"}}
		}, "views and measures found"},
		{"one measure often is one", func(s *analyse.Study) {
			s.Measurements = []analyse.Measurement{{Measure: "tapse"}, {Measure: "tapse"}}
		}, ""},
		{"content against a preset that was left as it was", func(s *analyse.Study) {
			s.Images[0].Series.BodyPart = "HEAD"
			s.Measurements = []analyse.Measurement{{Measure: "tapse"}, {Measure: "lv-outflow-vti"}}
		}, "views and measures found"},
	} {
		s := bare()
		c.edit(s)
		why, ok := Applies(s, p)
		if why != c.why || ok != (c.why != "") {
			t.Errorf("%s: %q, want %q", c.name, why, c.why)
		}
		results, applies := Apply(s, p)
		if applies != ok || (applies && len(results) != len(p.Items)) || (!applies && results != nil) {
			t.Errorf("%s: Apply gives %d results, applies %v", c.name, len(results), applies)
		}
	}
}

// A study that has everything meets every item of the built-in protocol, or the
// protocol asks for what no study can have.
func TestBuiltinCanBeMet(t *testing.T) {
	p, err := protocol.Load("newborn-heart-function")
	if err != nil {
		t.Fatal(err)
	}
	s := study(
		clip(1, "PLAX", 2, "2d"), still(2, "PLAX", "2d", "m-mode"), clip(3, "PSAX base", 2, "2d", "colour"), clip(4, "A4C", 2, "2d"),
		still(5, "A4C", "2d", "m-mode"), still(6, "A5C", "2d", "pw"), clip(7, "subcostal", 2, "2d"), clip(8, "ductal view", 2, "2d"),
		clip(9, "ductal view", 2, "2d", "colour"), still(10, "ductal view", "2d", "colour", "cw"), still(11, "A4C", "2d", "cw"), clip(12, "aortic arch", 2, "2d"),
	)
	for i, id := range []string{"lv-internal-diameter-diastole", "lv-internal-diameter-systole", "left-atrium-diameter", "aortic-root-diameter",
		"tapse", "lv-outflow-diameter", "lv-outflow-vti", "heart-rate", "duct-diameter"} {
		s.Measurements = append(s.Measurements, analyse.Measurement{Number: i + 1, Measure: id, Rebuilt: &physical.Quantity{}, Verdict: analyse.VerdictRebuiltOnly})
	}
	for _, i := range s.Images {
		i.Device.Serial = "LL-1"
	}
	s.Patient.WeightKg, s.Operators, s.Header.Start = dcm.Some(2.9), []string{"someone"}, at(9, 0)
	s.Reports = []*ingest.Instance{{Report: &report.Document{CompletionFlag: "COMPLETE"}, Content: at(12, 0), Study: &ingest.Study{}, Series: &ingest.Series{}}}
	results, applies := Apply(s, p)
	if !applies {
		t.Fatal("the protocol does not apply")
	}
	for _, r := range results {
		if r.Status != analyse.Met {
			t.Errorf("%s: %s, %s", r.Item, r.Status, r.Note)
		}
	}
	s.Images, s.Measurements, s.Reports = s.Images[:1], nil, nil
	results, _ = Apply(s, p)
	for _, r := range results[4:] {
		if r.Status == analyse.Met && r.Item != "parasternal-long-axis-clip" {
			t.Errorf("%s is met by one clip", r.Item)
		}
	}
}

func TestCheck(t *testing.T) {
	all := measures.Builtin().IDs()
	for _, name := range protocol.Builtins() {
		p, err := protocol.Load(name)
		if err != nil {
			t.Fatal(err)
		}
		if err := unknownWords(p.File, "measure", p.MeasureRefs(), all); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	p := mustItem(t, "kind: measure, measure: [tapse, lv-outflow-vit]")
	err := Check(p, all, nil)
	const want = `test.yaml:9:72: expected a known measure, found "lv-outflow-vit"; the nearest word is "lv-outflow-vti"`
	if err == nil || err.Error() != want {
		t.Errorf("got  %v\nwant %s", err, want)
	}
	var fe *protocol.FileError
	if !errors.As(err, &fe) || fe.Line != 9 {
		t.Errorf("no FileError: %v", err)
	}
	if _, ok := measures.Builtin().ByID("lv-outflow-vit"); ok {
		t.Error("the misspelt measure exists")
	}
	var many []string
	for i := range 500 {
		many = append(many, fmt.Sprintf("unknown-%d", i))
	}
	err = Check(mustItem(t, "kind: measure, measure: ["+strings.Join(many, ", ")+"]"), all, nil)
	if err == nil || strings.Count(err.Error(), "\n") != maxErrors || !strings.HasSuffix(err.Error(), "test.yaml: more errors were left out") {
		t.Errorf("of many errors: %v", err)
	}
	p = mustItem(t, "kind: index, index: fractional-shortning")
	known := []string{"ejection-fraction", "fractional-shortening"}
	const wantIndex = `test.yaml:9:60: expected a known index, found "fractional-shortning"; the nearest word is "fractional-shortening"`
	if err := Check(p, all, known); err == nil || err.Error() != wantIndex {
		t.Errorf("got  %v\nwant %s", err, wantIndex)
	}
	if err := Check(mustItem(t, "kind: index, index: ejection-fraction"), all, known); err != nil {
		t.Errorf("a known index: %v", err)
	}
}

// No text of the study enters a result: names, ids, descriptions, view names.
func TestNoPatientText(t *testing.T) {
	const secret = "SECRET"
	p, err := protocol.Load("newborn-heart-function")
	if err != nil {
		t.Fatal(err)
	}
	i := clip(1, secret+" view", 2, "2d")
	i.Series.Description, i.Series.Operators, i.Path = secret, secret, secret
	s := study(i)
	s.Patient = &ingest.Patient{Name: secret, ID: secret, BirthDate: secret}
	s.Header.Description = secret
	s.Measurements = []analyse.Measurement{{Number: 1, Label: secret, Observer: secret}}
	results, _ := Apply(s, p)
	if len(results) == 0 {
		t.Fatal("no results")
	}
	if strings.Contains(fmt.Sprintf("%+v", results), secret) {
		t.Errorf("text of the study in %+v", results)
	}
}

func ExampleApply() {
	p, err := protocol.Load("newborn-heart-function")
	if err != nil {
		fmt.Println(err)
		return
	}
	s := study(clip(4, "PLAX", 0.6, "2d"))
	results, applies := Apply(s, p)
	fmt.Println(applies)
	for _, r := range results {
		if r.Item == "parasternal-long-axis-clip" {
			fmt.Println(r.Status, r.Note)
		}
	}
	// Output:
	// true
	// partial image 4 lasts 0.6 s, 1 s needed
}
