package terms

import (
	"encoding/csv"
	"strings"
	"testing"

	"golang.org/x/text/cases"
	"golang.org/x/text/unicode/norm"

	"leadline/ingest/dcm"
)

func TestNormal(t *testing.T) {
	for _, c := range []struct{ label, want string }{
		{"LVIDd", "lvidd"},
		{"  LA : Ao ", "la ao"},
		{"R-R", "r r"},
		{"e′ lateral", "e' lateral"},
		{"e’", "e'"},
		{"Fläche", "flache"},
		{"FLÄCHE", "flache"},
		{"diamètre télé\u00adsystolique", "diametre tele systolique"},
		{"Größe", "grosse"},
		{"cœur", "coeur"},
		{"%FS", "%fs"},
		{"--", ""},
		{"", ""},
	} {
		if got := Normal(c.label); got != c.want {
			t.Errorf("Normal(%q) = %q, want %q", c.label, got, c.want)
		}
		if again := Normal(Normal(c.label)); again != Normal(c.label) {
			t.Errorf("Normal is not stable on %q: %q", c.label, again)
		}
	}
}

func TestContains(t *testing.T) {
	for _, c := range []struct {
		text, term string
		want       bool
	}{
		{"Echokardiographie, NICU", "echokardiogra*", true},
		{"Echokardiographie", "echokardiogra", false},
		{"ECHO heart", "heart", true},
		{"heartburn", "heart", false},
		{"Cœur", "coeur", true},
		{"bedside echo", "chocardio*", false},
		{"anything", "*", false},
		{"", "heart", false},
	} {
		if got := Contains(c.text, c.term); got != c.want {
			t.Errorf("Contains(%q, %q) = %v", c.text, c.term, got)
		}
	}
}

func TestNearest(t *testing.T) {
	known := []string{"header", "image", "measure", "index", "report"}
	for _, c := range []struct{ word, want string }{
		{"imgae", "image"}, // two neighbours swapped are one step
		{"measures", "measure"},
		{"raport", "report"},
		{"hedaer", "header"},
		{"Image", "image"},
		{"photograph", ""},
		{"head", "header"},  // two letters short
		{"meas", "measure"}, // the beginning of it
		{"mea", ""},
		{"", ""},
	} {
		if got := Nearest(c.word, known); got != c.want {
			t.Errorf("Nearest(%q) = %q, want %q", c.word, got, c.want)
		}
	}
}

func TestCurrent(t *testing.T) {
	for _, c := range []struct{ in, want dcm.Code }{
		{dcm.Code{Value: "T-32600", Scheme: "SRT"}, dcm.Code{Value: "87878005", Scheme: "SCT"}},
		{dcm.Code{Value: "G-C0E3", Scheme: "SNM3"}, dcm.Code{Value: "363698007", Scheme: "SCT"}},
		{dcm.Code{Value: "T-45540", Scheme: "99SDM"}, dcm.Code{Value: "60176003", Scheme: "SCT"}},
		{dcm.Code{Value: "87878005", Scheme: "SNOMED-CT"}, dcm.Code{Value: "87878005", Scheme: "SCT"}},
		{dcm.Code{Value: "X-00000", Scheme: "SRT"}, dcm.Code{Value: "X-00000", Scheme: "SRT"}},
		{dcm.Code{Value: "T-32600", Scheme: "99XYZ"}, dcm.Code{Value: "T-32600", Scheme: "99XYZ"}},
		{dcm.Code{Value: "29436-3", Scheme: "LN"}, dcm.Code{Value: "29436-3", Scheme: "LN"}},
	} {
		if got := Current(c.in); got != c.want {
			t.Errorf("Current(%v) = %v, want %v", c.in, got, c.want)
		}
	}
}

// Two legacy codes of one concept would be harmless, one legacy code of two
// concepts would not.
func TestLegacyIsUnambiguous(t *testing.T) {
	rows, err := csv.NewReader(strings.NewReader(legacyCSV)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) < 100 {
		t.Fatalf("%d rows; the table is not there", len(rows))
	}
	seen := map[string]bool{}
	for _, row := range rows[1:] {
		if seen[row[0]] {
			t.Errorf("%s stands twice", row[0])
		}
		seen[row[0]] = true
	}
}

func TestSide(t *testing.T) {
	for _, c := range []struct{ word, want string }{
		{"left", "left"}, {"Li", "left"}, {"GAUCHE", "left"}, {"izq", "left"},
		{"R", "right"}, {"rechts", "right"}, {"derecho", "right"},
		{"bilatéral", "bilateral"}, {"bilateral", "bilateral"},
		{"middle", ""}, {"", ""},
	} {
		if got, ok := Side(c.word); got != c.want || ok != (c.want != "") {
			t.Errorf("Side(%q) = %q", c.word, got)
		}
	}
}

// TestNormalASCII: labels of ASCII alone are folded without the Unicode tables, and
// to the same.
func TestNormalASCII(t *testing.T) {
	for _, label := range []string{"", "LA:Ao", "E'", "  TAPSE (mm) ", "50%", "A-Z@[`{~", "\tIVSd\n\x00\x7f", strings.Repeat("Ab 9", 50)} {
		if got, want := Normal(label), words(cases.Fold().String(norm.NFKD.String(ligatures.Replace(label)))); got != want {
			t.Errorf("%q: %q, by the tables %q", label, got, want)
		}
	}
	for c := range byte(0x80) {
		label := "a" + string(rune(c)) + "B"
		if got, want := Normal(label), words(cases.Fold().String(norm.NFKD.String(ligatures.Replace(label)))); got != want {
			t.Errorf("%q: %q, by the tables %q", label, got, want)
		}
	}
}
