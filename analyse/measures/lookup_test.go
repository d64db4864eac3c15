package measures

import (
	"fmt"
	"strings"
	"testing"

	"leadline/ingest/dcm"
	"leadline/ingest/report"
)

// modifiers makes one modifier of each SCT value that is not empty.
func modifiers(values ...string) []report.Modifier {
	var out []report.Modifier
	for _, v := range values {
		if v != "" {
			scheme, value, _ := strings.Cut(conditionKey(v), " ")
			out = append(out, report.Modifier{Value: dcm.Code{Value: value, Scheme: scheme}})
		}
	}
	return out
}

// What devices, and people of several languages, write.
func TestWrittenLabels(t *testing.T) {
	for label, want := range map[string]string{
		"ACA Vmax": "aca-peak-systolic-velocity", "Vmax ACM": "mca-peak-systolic-velocity", "Vmax": "velocity", "ACA TAV": "aca-time-averaged-mean-velocity",
		"RI A. cerebri anterior": "aca-resistive-index", "A. mesenterica superior PSV": "sma-peak-systolic-velocity", "DAo EDV": "descending-aorta-end-diastolic-velocity",
		"PDA Durchmesser": "duct-diameter", "conducto arterioso": "duct-diameter", "3. Ventrikel": "third-ventricle-width", "4th ventricle": "fourth-ventricle-width",
		"EF (Teich)": "lv-ejection-fraction", "diamètre télédiastolique VG": "lv-internal-diameter-diastole", "largeur de la corne frontale gauche": "anterior-horn-width",
		"veine cave inférieure max": "inferior-vena-cava-max", "e' lat": "mitral-lateral-e-prime", "S' RV": "tricuspid-s-prime", "TV E/A": "tricuspid-e-to-a-ratio",
		"LPA EDV": "left-pulmonary-artery-end-diastolic-velocity", "LPA": "left-pulmonary-artery-diameter", "ASD": "foramen-ovale-diameter", "Trikuspidalring": "tricuspid-annulus-diameter",
		"LVOT Vmean": "lv-outflow-mean-velocity", "LVOT TAMEAN": "lv-outflow-time-averaged-mean-velocity",
	} {
		if got, ok := Builtin().OfLabel(label); !ok || got.ID != want {
			t.Errorf("%q leads to %q, want %s", label, got.ID, want)
		}
	}
}

func TestLookup(t *testing.T) {
	ln := func(v string) dcm.Code { return dcm.Code{Value: v, Scheme: "LN"} }
	srt := func(v string) dcm.Code { return dcm.Code{Value: v, Scheme: "SRT"} }
	sct := func(v string) dcm.Code { return dcm.Code{Value: v, Scheme: "SCT"} }
	for _, c := range []struct {
		name       string
		concept    dcm.Code
		modifiers  []report.Modifier
		containers []dcm.Code
		label      string
		id, side   string
	}{
		{name: "a code that says everything", concept: ln("29436-3"), label: "anything", id: "lv-internal-diameter-diastole"},
		{name: "the code wins over the label", concept: ln("29436-3"), label: "LVIDs", id: "lv-internal-diameter-diastole"},
		{name: "diameter of the duct", concept: sct("81827009"), modifiers: modifiers("83330001"), id: "duct-diameter"},
		{name: "the same in old codes", concept: srt("M-02550"), modifiers: []report.Modifier{{Value: srt("D4-32012")}}, id: "duct-diameter"},
		{name: "diameter of nothing", concept: sct("81827009"), id: "length"},
		{name: "diameter of something unknown", concept: sct("81827009"), modifiers: modifiers("8993003"), id: "length"},
		{name: "the vessel is the container, the side a modifier above (TID 5103, 5104)", concept: ln("12023-8"),
			modifiers: modifiers("24028007"), containers: []dcm.Code{srt("T-45600")}, id: "mca-resistive-index", side: "right"},
		{name: "index without a vessel", concept: ln("12023-8"), id: "resistive-index"},
		{name: "the site with the nearest place wins", concept: ln("20354-7"), modifiers: modifiers("13418002", "34202007"), id: "lv-outflow-vti"},
		{name: "the other way round", concept: ln("20354-7"), modifiers: modifiers("34202007", "13418002"), id: "aortic-valve-vti"},
		{name: "more conditions win over fewer", concept: ln("18006-7"), modifiers: modifiers("255605001"), id: "inferior-vena-cava-min"},
		{name: "no condition met", concept: ln("18006-7"), id: "inferior-vena-cava-diameter"},
		{name: "both ends at once are ambiguous", concept: ln("18006-7"), modifiers: modifiers("255605001", "56851009")},
		{name: "regurgitation needs its direction", concept: ln("11726-7"), modifiers: modifiers("46030003", "397417004"), id: "tricuspid-regurgitation-peak-velocity"},
		{name: "a value divided by body surface is another quantity", concept: ln("29436-3"),
			modifiers: []report.Modifier{{Name: dcm.Code{Value: "121425", Scheme: "DCM"}, Value: dcm.Code{Value: "8277-6", Scheme: "LN"}}}, label: "LVIDd"},
		{name: "a private code falls back on its meaning", concept: dcm.Code{Value: "77", Scheme: "99ZZZ"}, label: "TAPSE", id: "tapse"},
		{name: "and keeps a coded side", concept: dcm.Code{Value: "77", Scheme: "99ZZZ"}, modifiers: modifiers("7771000"), label: "AHW", id: "anterior-horn-width", side: "left"},
		{name: "nothing known", concept: dcm.Code{Value: "77", Scheme: "99ZZZ"}, label: "Thingummy"},
		{name: "nothing at all"},
	} {
		got, ok := Builtin().Lookup(c.concept, c.modifiers, c.containers, c.label)
		if ok != (c.id != "") || got.ID != c.id || got.Side != c.side {
			t.Errorf("%s: got %q side %q, want %q side %q", c.name, got.ID, got.Side, c.id, c.side)
		}
	}
}

func TestOfLabel(t *testing.T) {
	for _, c := range []struct{ label, id, side string }{
		{"LVIDd", "lv-internal-diameter-diastole", ""},
		{"lvidd (2D)", "lv-internal-diameter-diastole", ""},
		{"LVIDd MM 2", "lv-internal-diameter-diastole", ""},
		{"IVSd M-mode", "interventricular-septum-diastole", ""},
		{"LA:Ao", "left-atrium-to-aorta-ratio", ""},
		{"E/A", "mitral-e-to-a-ratio", ""},
		{"MV A", "mitral-a", ""},
		{"VI left", "ventricular-index", "left"},
		{"L VI", "ventricular-index", "left"},
		{"Ventrikelindex rechts", "ventricular-index", "right"},
		{"index ventriculaire gauche", "ventricular-index", "left"},
		{"índice ventricular derecho", "ventricular-index", "right"},
		{"RI MCA links", "mca-resistive-index", "left"},
		{"MCA R RI", "mca-resistive-index", "right"},
		{"ACA PSV", "aca-peak-systolic-velocity", ""},
		{"PSV ACA", "aca-peak-systolic-velocity", ""},
		{"LUS upper anterior R", "lung-score-upper-anterior", "right"},
		{"Left Pulmonary Artery Diameter", "left-pulmonary-artery-diameter", ""},
		{"TAPSE left", "", ""}, // TAPSE has no sides
		{"LVID", "", ""},       // neither diastole nor systole: not guessed
		{"Dist 3", "length", ""},
		{"2", "", ""},
		{"Left", "", ""},
		{"", "", ""},
	} {
		got, ok := Builtin().OfLabel(c.label)
		if ok != (c.id != "") || got.ID != c.id || got.Side != c.side {
			t.Errorf("OfLabel(%q) = %q side %q, want %q side %q", c.label, got.ID, got.Side, c.id, c.side)
		}
	}
}

// A handheld stores only a text beside the caliper.
func ExampleCatalogue_OfLabel() {
	m, ok := Builtin().OfLabel("Vorderhornweite rechts")
	fmt.Println(ok, m.ID, m.Side, m.Quantity, m.Unit)
	_, ok = Builtin().OfLabel("scribble")
	fmt.Println(ok)
	// Output:
	// true anterior-horn-width right distance mm
	// false
}

// A vascular report names the vessel in the container above the number.
func ExampleCatalogue_Lookup() {
	index := dcm.Code{Value: "12023-8", Scheme: "LN", Meaning: "Resistivity Index"}
	vessel := dcm.Code{Value: "T-45540", Scheme: "SRT", Meaning: "Anterior Cerebral Artery"}
	m, ok := Builtin().Lookup(index, nil, []dcm.Code{vessel}, index.Meaning)
	fmt.Println(ok, m.ID)
	// Output: true aca-resistive-index
}
