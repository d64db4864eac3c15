package physical

import (
	"fmt"
	"math"
	"testing"

	"leadline/ingest"
)

func TestParseUnit(t *testing.T) {
	for _, c := range []struct {
		code   string
		unit   Unit
		factor float64
	}{
		// PS3.16 CID 7460, 7461, 7462, 7181, 3500, 7183 and spellings in files.
		{"mm", MM, 1}, {"cm", MM, 10}, {"m", MM, 1000}, {"um", MM, 1e-3}, {"µm", MM, 1e-3}, {" cm ", MM, 10}, {"MM", MM, 1},
		{"mm2", MM2, 1}, {"cm2", MM2, 100}, {"m2", MM2, 1e6}, {"cm^2", MM2, 100}, {"cm²", MM2, 100},
		{"mL", ML, 1}, {"ml", ML, 1}, {"cm3", ML, 1}, {"mm3", ML, 1e-3}, {"l", ML, 1000},
		{"s", S, 1}, {"sec", S, 1}, {"ms", S, 1e-3}, {"min", S, 60},
		{"cm/s", CMPerS, 1}, {"m/s", CMPerS, 100}, {"mm/s", CMPerS, 0.1}, {"CM/S", CMPerS, 1},
		{"cm/s2", CMPerS2, 1}, {"m/s2", CMPerS2, 100},
		{"mm[Hg]", MMHg, 1}, {"mmHg", MMHg, 1}, {"kPa", MMHg, 7.50062},
		{"/min", PerMin, 1}, {"{H.B.}/min", PerMin, 1}, {"{beats}/min", PerMin, 1}, {"bpm", PerMin, 1},
		{"deg", Deg, 1}, {"rad", Deg, 57.29578}, {"%", Percent, 1}, {"1", One, 1}, {"{ratio}", One, 1}, {"no units", One, 1},
		{"Hz", Hz, 1}, {"kHz", Hz, 1000},
	} {
		got, ok := ParseUnit(c.code)
		if !ok || got.Unit != c.unit || math.Abs(got.Factor/c.factor-1) > 1e-6 {
			t.Errorf("%q: got %+v %v, want %s × %g", c.code, got, ok, c.unit, c.factor)
		}
	}
	for _, code := range []string{"", " ", "furlong", "M", "S", "{SUVbw}g/ml", "cm/m2", "{open", "ml/min", "{pixels}x"} {
		if got, ok := ParseUnit(code); ok {
			t.Errorf("%q was read as %+v", code, got)
		}
	}
}

func TestUnitsSpelledOnce(t *testing.T) {
	if len(units) < 90 {
		t.Errorf("only %d spellings: one stands under two units", len(units))
	}
}

func TestLastPlace(t *testing.T) {
	for text, want := range map[string]float64{
		"1.06": 0.01, "30": 1, "1.2E1": 1, "-0.50": 0.01, "+7": 1, " 3.3 ": 0.1, "1200": 1, "5.": 1, ".5": 0.1,
		"1e-3": 1e-3, "1.25e+2": 1, "12E2": 100, "39.579597": 1e-6, "0": 1, "0.000": 1e-3,
	} {
		if got, ok := LastPlace(text); !ok || math.Abs(got/want-1) > 1e-12 {
			t.Errorf("%q: got %v %v, want %v", text, got, ok, want)
		}
	}
	for _, text := range []string{"", " ", "abc", "1,06", "1.2.3", "--1", "+-1", "1e", "e5", ".", "-", "0x10", "1 2", "NaN", "1e999"} {
		if got, ok := LastPlace(text); ok {
			t.Errorf("%q: got %v", text, got)
		}
	}
}

func ExamplePlane_Distance() {
	p, _ := SpacingPlane([2]float64{0.09, 0.06}) // row spacing first
	d, _ := p.Distance(ingest.Point{X: 210, Y: 140}, ingest.Point{X: 318, Y: 221})
	fmt.Printf("%.3f ± %.3f %s", d.Value, d.ExpandedU(), d.Unit)
	// Output: 9.754 ± 0.064 mm
}

func ExampleParseUnit() {
	c, _ := ParseUnit("m/s")
	fmt.Println(1.2*c.Factor, c.Unit)
	// Output: 120 cm/s
}

func TestPrinted(t *testing.T) {
	for code, want := range map[string]string{
		"mm": "mm", "mm2": "mm²", "cm2": "cm²", "cm/s2": "cm/s²", "mm[Hg]": "mmHg", "/min": "/min", "1/min": "/min",
		"{H.B.}/min": "/min", "{ratio}": "", "1": "", "deg": "°", "mL/min/kg": "mL/min/kg", "{what}/ever": "{what}/ever", "": "",
	} {
		if got := Printed(code); got != want {
			t.Errorf("%q: %q, want %q", code, got, want)
		}
	}
}
