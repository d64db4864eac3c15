package report

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"leadline/ingest/dcm"
	b "leadline/ingest/internal/dcmbuild"
)

// echo is an invented report with most of what a report can hold: the vessel is
// the name of a container, the side stands two levels above the number (TID 5103,
// 5104), what the number itself says comes first.
func echo() dcm.Dataset {
	d := root(
		coded("HAS CONCEPT MOD", "121049|DCM|Language of Content Item and Descendants", "en|RFC5646|English"),
		coded("HAS OBS CONTEXT", "121005|DCM|Observer Type", "121006|DCM|Person", person("HAS OBS CONTEXT", "121008|DCM|Person Observer Name", "Harbour^Ada")),
		person("HAS OBS CONTEXT", "121029|DCM|Subject Name", "Nobody^Baby"),
		text("CONTAINS", "121111|DCM|Summary", "seen well"),
		group("59776-5|LN|Findings",
			coded("HAS CONCEPT MOD", siteConcept, "113257007|SCT|Cardiovascular system", coded("HAS CONCEPT MOD", "272741003|SCT|Laterality", "7771000|SCT|Left")),
			group("17137000|SCT|Brachial artery",
				text("HAS OBS CONTEXT", "112039|DCM|Tracking Identifier", "t1"),
				numberAs("CONTAINS", "11726-7|LN|Peak Systolic Velocity", "45.30", "cm/s",
					coded("HAS CONCEPT MOD", "121401|DCM|Derivation", "373098007|SCT|Mean"),
					numberAs("HAS PROPERTIES", "125106|DCM|Doppler Angle", "60", "deg"),
					coded("HAS PROPERTIES", "121404|DCM|Selection Status", "121410|DCM|User chosen value"),
					text("HAS CONCEPT MOD", "125309|DCM|Short Label", "PSV"),
					numberAs("INFERRED FROM", "11726-7|LN|Peak Systolic Velocity", "44", "cm/s"),
					reference("INFERRED FROM", 1, 6),
					image("INFERRED FROM", "1.2.3", "4", "0")))),
		numberAs("CONTAINS", "8867-4|LN|Heart rate", "140", "/min", person("HAS OBS CONTEXT", "121008|DCM|Person Observer Name", "Quay^Ben")),
		group("111028|DCM|Image Library", item("CONTAINS", "IMAGE", "", []dcm.Element{b.References(dcm.ReferencedSOPSequence, "1.2.3", "4", "0")}, numberAs("HAS ACQ CONTEXT", "110910|DCM|Pixel Data Rows", "600", "{pixels}"))),
	)
	d.Elements = append(d.Elements,
		b.Text(dcm.CompletionFlag, "CS", "COMPLETE"), b.Text(dcm.VerificationFlag, "CS", "VERIFIED"), b.Text(dcm.PreliminaryFlag, "CS", "FINAL"),
		b.Text(dcm.ObservationDateTime, "DT", "20300102030405"),
		b.Sequence(dcm.ContentTemplateSequence, b.Set(b.Text(dcm.TemplateIdentifier, "CS", "5100"))),
		b.Sequence(dcm.VerifyingObserverSequence, b.Set(b.Text(dcm.VerificationDateTime, "DT", "20300102"), b.Text(dcm.VerifyingObserverName, "PN", "Pier^Cleo"))))
	return d
}

func TestRead(t *testing.T) {
	d := echo()
	doc := Read(&d)
	if len(doc.Problems) != 0 {
		t.Errorf("problems %q", doc.Problems)
	}
	if got, want := fmt.Sprint(doc.Title.Value, doc.TemplateID, doc.Templates, doc.CompletionFlag, doc.VerificationFlag, doc.PreliminaryFlag, doc.Verifications, doc.Observers),
		"1252005100[5100]COMPLETEVERIFIEDFINAL[{20300102 Pier^Cleo}][Harbour^Ada Quay^Ben]"; strings.ReplaceAll(got, " ", "") != strings.ReplaceAll(want, " ", "") {
		t.Errorf("head\n got %s\nwant %s", got, want)
	}
	if len(doc.Numerics) != 3 || doc.Qualifying != 2 {
		t.Fatalf("%d numbers, %d qualifying, want 3, 2", len(doc.Numerics), doc.Qualifying)
	}
	peak := doc.Numerics[0]
	got := map[string]string{
		"path": peak.Path, "relation": peak.Relation, "text": peak.Text, "unit": peak.Unit.Value, "modifiers": modifiersOf(peak),
		"containers": fmt.Sprint(peak.Containers), "selection": peak.Selection.Meaning, "label": peak.ShortLabel, "tracking": peak.TrackingID,
		"observer": peak.Observer, "time": peak.ObservedDateTime, "inputs": fmt.Sprint(peak.Inputs), "images": fmt.Sprint(peak.Images),
	}
	want := map[string]string{
		"path": "1.5.2.2", "relation": "CONTAINS", "text": "45.30", "unit": "cm/s",
		"modifiers":  "Derivation=Mean; Doppler Angle=60 deg; Selection Status=User chosen value; Finding Site=Cardiovascular system; Laterality=Left",
		"containers": "[{17137000 SCT  Brachial artery} {59776-5 LN  Findings} {125200 DCM  Adult Echocardiography Procedure Report}]",
		"selection":  "User chosen value", "label": "PSV", "tracking": "t1",
		"observer": "Harbour^Ada", "time": "20300102030405", "inputs": "[1.5.2.2.5 1.6]", "images": "[{1.2.840.10008.5.1.4.1.1.6.1 1.2.3 [4 0]}]",
	}
	for k := range want {
		if got[k] != want[k] {
			t.Errorf("%s: got %q, want %q", k, got[k], want[k])
		}
	}
	if peak.Value != dcm.Some(45.3) {
		t.Errorf("value %v", peak.Value)
	}
	if rate := doc.Numerics[2]; rate.Observer != "Quay^Ben" || len(rate.Modifiers) != 0 {
		t.Errorf("heart rate: observer %q, modifiers %q", rate.Observer, modifiersOf(rate))
	}
	if len(doc.Images) != 1 {
		t.Errorf("images %v, want one", doc.Images)
	}
	var statements []string
	for _, s := range doc.Statements {
		statements = append(statements, s.Path+"="+s.Concept.Meaning+"="+s.Value.Meaning+s.Text)
	}
	if want := []string{"1.4=Summary=seen well", "1.5.1=Finding Site=Cardiovascular system", "1.5.1.1=Laterality=Left"}; !slices.Equal(statements, want) {
		t.Errorf("statements\n got %q\nwant %q", statements, want)
	}
}

func TestMeasuredValue(t *testing.T) {
	unit := code(dcm.MeasurementUnitsCodeSequence, "cm|UCUM|cm")
	ds := func(v ...string) dcm.Element { return b.Text(dcm.NumericValue, "DS", v...) }
	fd := func(v ...float64) dcm.Element { return b.Number(dcm.FloatingPointValue, "FD", v...) }
	one := func(e ...dcm.Element) []dcm.Dataset { return []dcm.Dataset{b.Set(append(e, unit)...)} }
	tests := []struct {
		name    string
		items   []dcm.Dataset
		value   dcm.Optional[float64]
		text    string
		problem string
	}{
		{"decimal", one(ds("1.50")), dcm.Some(1.5), "1.50", ""},
		{"none", nil, dcm.Optional[float64]{}, "", ""},
		{"empty", one(ds("")), dcm.Optional[float64]{}, "", ""},
		{"double preferred, decimal tells the last place", one(ds("1.50"), fd(1.4999)), dcm.Some(1.4999), "1.50", ""},
		{"double alone", one(fd(2.25)), dcm.Some(2.25), "", ""},
		{"fraction", one(b.Number(dcm.RationalNumeratorValue, "SL", -1), b.Number(dcm.RationalDenominatorValue, "UL", 4)), dcm.Some(-0.25), "", ""},
		{"fraction by zero", one(b.Number(dcm.RationalNumeratorValue, "SL", 1), b.Number(dcm.RationalDenominatorValue, "UL", 0)), dcm.Optional[float64]{}, "", ""},
		{"infinite double", one(fd(math.Inf(1))), dcm.Optional[float64]{}, "", ""},
		{"decimal comma", one(ds("1,5")), dcm.Optional[float64]{}, "", "a numeric value that is a decimal number"},
		{"two numbers", one(ds("1", "2")), dcm.Optional[float64]{}, "", "one numeric value"},
		{"two values", append(one(ds("1")), one(ds("2"))...), dcm.Optional[float64]{}, "", "at most one measured value"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			d := root(item("CONTAINS", "NUM", lengthConcept, []dcm.Element{b.Sequence(dcm.MeasuredValueSequence, tt.items...)}))
			doc := Read(&d)
			n := doc.Numerics[0]
			if n.Value != tt.value || n.Text != tt.text {
				t.Errorf("got %v %q, want %v %q", n.Value, n.Text, tt.value, tt.text)
			}
			wantProblem(t, doc, tt.problem)
		})
	}
}

func wantProblem(t *testing.T, doc *Document, want string) {
	t.Helper()
	all := strings.Join(doc.Problems, "\n")
	if want == "" && all != "" || !strings.Contains(all, want) {
		t.Errorf("problems %q, want %q", doc.Problems, want)
	}
}

func TestProblems(t *testing.T) {
	img := image("SELECTED FROM", "1.2")
	tests := []struct {
		name    string
		child   dcm.Dataset
		problem string
	}{
		{"reference to itself", reference("INFERRED FROM", 1, 1, 1), "item 1.1.1: expected a reference to another item"},
		{"reference to an item above", reference("INFERRED FROM", 1, 1), "item 1.1.1: expected a reference to another item"},
		{"missing path", reference("INFERRED FROM", 1, 7, 2), "item 1.1.1: expected a reference to another item"},
		{"reference to a reference", group("", reference("INFERRED FROM", 1, 1, 1, 2), reference("INFERRED FROM", 1, 1)), "item 1.1.1.1: expected a reference to another item"},
		{"path not from the root", reference("INFERRED FROM", 2, 1), "item 1.1.1: expected a reference to another item"},
		{"path with zero", reference("INFERRED FROM", 1, 0), "item 1.1.1: expected a reference to another item"},
		{"path beyond 32 bits of sign", reference("INFERRED FROM", 1, 4294967295), "item 1.1.1: expected a reference to another item"},
		{"odd coordinates", scoord("INFERRED FROM", "", "POLYLINE", []float64{1, 2, 3}, img), "item 1.1.1: expected an even number of coordinates"},
		{"no points", scoord("INFERRED FROM", "", "POLYLINE", nil, img), "item 1.1.1: expected two points or more in a POLYLINE"},
		{"no points in a multipoint", scoord("INFERRED FROM", "", "MULTIPOINT", nil, img), "one point or more"},
		{"two in a point", scoord("INFERRED FROM", "", "POINT", []float64{1, 2, 3, 4}, img), "one point in a POINT"},
		{"three in a circle", scoord("INFERRED FROM", "", "CIRCLE", []float64{1, 2, 3, 4, 5, 6}, img), "two points in a CIRCLE"},
		{"two in an ellipse", scoord("INFERRED FROM", "", "ELLIPSE", []float64{1, 2, 3, 4}, img), "four points in an ELLIPSE"},
		{"not a number", scoord("INFERRED FROM", "", "POINT", []float64{math.NaN(), 2}, img), "one point in a POINT"},
		{"unknown type", scoord("INFERRED FROM", "", "RECTANGLE", []float64{1, 2, 3, 4}, img), "a graphic type among"},
		{"no image", scoord("INFERRED FROM", "", "POINT", []float64{1, 2}), "an image the coordinates were selected from"},
		{"image without reference", scoord("INFERRED FROM", "", "POINT", []float64{1, 2}, item("SELECTED FROM", "IMAGE", "", nil)), "item 1.1.1.1: expected a referenced image"},
		{"time coordinates", item("INFERRED FROM", "TCOORD", "", nil), "those in time (TCOORD) are not used"},
		{"patient coordinates", item("INFERRED FROM", "SCOORD3D", "", nil), "those in the patient (SCOORD3D) are not used"},
		{"no value type", item("INFERRED FROM", "", lengthConcept, nil), "item 1.1.1: expected a value type or a reference"},
		{"no relationship", item("", "TEXT", lengthConcept, nil), "item 1.1.1: expected a relationship type"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			d := root(number(lengthConcept, "2.0", tt.child))
			doc := Read(&d)
			if len(doc.Numerics) != 1 || doc.Numerics[0].Value != dcm.Some(2.0) {
				t.Errorf("the number itself is lost: %v", doc.Numerics)
			}
			wantProblem(t, doc, tt.problem)
		})
	}
}

// TestLoop refers two numbers to each other: each is an input of the other, and
// nothing is followed further.
func TestLoop(t *testing.T) {
	d := root(number(lengthConcept, "1", reference("INFERRED FROM", 1, 2)), number(lengthConcept, "2", reference("INFERRED FROM", 1, 1)))
	doc := Read(&d)
	if got := fmt.Sprint(doc.Numerics[0].Inputs, doc.Numerics[1].Inputs); got != "[1.2] [1.1]" {
		t.Errorf("inputs %s", got)
	}
	wantProblem(t, doc, "")
}

// TestLimits makes trees that ask for more than is granted; each is named, and
// what is read stays bounded.
func TestLimits(t *testing.T) {
	t.Run("depth", func(t *testing.T) {
		d := number(lengthConcept, "1")
		for range 200_000 {
			d = group("", d)
		}
		doc := Read(&d)
		wantProblem(t, doc, "in at most 64 levels")
		if len(doc.Numerics) != 0 {
			t.Errorf("%d numbers", len(doc.Numerics))
		}
	})
	t.Run("points", func(t *testing.T) {
		many := line("INFERRED FROM", make([]float64, 2*600_000)...)
		d := root(number(lengthConcept, "1", many), number(lengthConcept, "2", many))
		doc := Read(&d)
		wantProblem(t, doc, "item 1.2.1: expected at most 1000000 points in the report")
		if len(doc.Numerics[0].Graphics) != 1 || len(doc.Numerics[1].Graphics) != 0 {
			t.Errorf("%d and %d graphics", len(doc.Numerics[0].Graphics), len(doc.Numerics[1].Graphics))
		}
	})
	t.Run("modifiers multiplied by numbers", func(t *testing.T) {
		var children []dcm.Dataset
		for range 2_000 {
			children = append(children, coded("HAS CONCEPT MOD", siteConcept, "1|X|y"), number(lengthConcept, "1"))
		}
		d := root(group("", children...))
		doc := Read(&d)
		wantProblem(t, doc, "this number and those behind it are left out")
		if n := len(doc.Numerics); n == 0 || n > maxEntries/2_000 {
			t.Errorf("%d numbers", n)
		}
	})
	t.Run("problems", func(t *testing.T) {
		children := make([]dcm.Dataset, 500)
		d := root(children...)
		doc := Read(&d)
		if len(doc.Problems) != maxProblems+1 || doc.Problems[maxProblems] != "and 900 more" {
			t.Errorf("%d problems, last %q", len(doc.Problems), doc.Problems[len(doc.Problems)-1])
		}
	})
	t.Run("empty", func(t *testing.T) {
		if doc := Read(&dcm.Dataset{}); len(doc.Numerics)+len(doc.Problems) != 0 {
			t.Errorf("got %+v", doc)
		}
	})
}

// TestImageByReference selects a graphic from an entry of the image library.
func TestImageByReference(t *testing.T) {
	d := root(group("111028|DCM|Image Library", image("CONTAINS", "1.9", "3")),
		number(lengthConcept, "1", scoord("INFERRED FROM", "", "CIRCLE", []float64{1, 1, 2, 2}, reference("SELECTED FROM", 1, 1, 1))))
	doc := Read(&d)
	if got := graphics(doc.Numerics[0]); got != "own:CIRCLE[1,1 2,2]@1.9#[3]" {
		t.Errorf("got %s, problems %q", got, doc.Problems)
	}
}

// TestViews keeps the view that image items state, once each, by the concept Image
// View (111031, DCM) alone.
func TestViews(t *testing.T) {
	const imageView, fourChamber = "111031|DCM|Image View", "399214001|SCT|Apical four chamber"
	of := func(uid string, children ...dcm.Dataset) dcm.Dataset {
		return item("CONTAINS", "IMAGE", "", []dcm.Element{b.References(dcm.ReferencedSOPSequence, uid)}, children...)
	}
	d := root(group("111028|DCM|Image Library",
		of("1.2", coded("HAS ACQ CONTEXT", "399264008|SCT|Image mode", "399064001|SCT|2D mode"), coded("HAS ACQ CONTEXT", imageView, fourChamber)),
		of("1.3"), of("1.4", coded("HAS ACQ CONTEXT", "111031|99WARD|Image View", fourChamber))))
	got := Read(&d).Views
	if len(got) != 1 || len(got[0].Images) != 1 || got[0].Images[0].InstanceUID != "1.2" || got[0].View.Value != "399214001" {
		t.Errorf("views %+v", got)
	}
	if !IsImageView(dcm.Code{Value: "111031", Scheme: "DCM"}) || IsImageView(dcm.Code{Value: "111031", Scheme: "99WARD"}) {
		t.Error("Image View is the concept of the standard alone")
	}
}
