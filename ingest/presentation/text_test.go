package presentation

import (
	"fmt"
	"testing"
)

func TestParseText(t *testing.T) {
	// want is label|value text|value|unit|comma; label alone where no value is taken.
	tests := []struct{ text, want string }{
		{"LVIDd 1.82 cm", "LVIDd|1.82|1.82|cm|false"},
		{"PSV: -45,3 cm/s", "PSV|-45.3|-45.3|cm/s|true"},
		{"PSV:-45.3cm/s", "PSV|-45.3|-45.3|cm/s|false"},
		{"T 0.238 sec", "T|0.238|0.238|s|false"},
		{"T 0,238 sec", "T|0.238|0.238|s|true"},
		{"LA/Ao = 1.82 cm", "LA/Ao|1.82|1.82|cm|false"},
		{"LVIDd=1.820cm", "LVIDd|1.820|1.82|cm|false"},
		{"1.82 cm", "|1.82|1.82|cm|false"},
		{"1.82 cm LVIDd", "LVIDd|1.82|1.82|cm|false"},
		{"LVIDd 1.82 cm (mean)", "LVIDd mean|1.82|1.82|cm|false"},
		{"LVIDd\r\n1.82 cm", "LVIDd|1.82|1.82|cm|false"},
		{"  LVIDd \t 1.82  CM ", "LVIDd|1.82|1.82|cm|false"},
		{"D1 3 mm", "D1|3|3|mm|false"},
		{"2D LVIDd 1.82 cm", "2D LVIDd|1.82|1.82|cm|false"},
		{"4CH area 3.1 cm²", "4CH area|3.1|3.1|cm2|false"},
		{"Area 3.1 cm^2", "Area|3.1|3.1|cm2|false"},
		{"GA 28w3d BPD 7.1 cm", "GA 28w3d BPD|7.1|7.1|cm|false"},
		{"Vmax \u221245.3 cm / s", "Vmax|-45.3|-45.3|cm/s|false"},
		{"PG +12 mmHg", "PG|+12|12|mm[Hg]|false"},
		{"HR 140 bpm", "HR|140|140|/min|false"},
		{"Dec 812 cm/s²", "Dec|812|812|cm/s2|false"},
		{"EF 61.5%", "EF|61.5|61.5|%|false"},
		{"angle 60°", "angle|60|60|deg|false"},
		{"AT 52 ms", "AT|52|52|ms|false"},
		{"ET .24 s", "ET|.24|0.24|s|false"},
		{"VTI 12.1 cm.", "VTI|12.1|12.1|cm|false"},
		{"VTI, 12.1 cm", "VTI|12.1|12.1|cm|false"},
		{"len 1234,5 mm", "len|1234.5|1234.5|mm|true"},
		{"len 0,500 cm", "len|0.500|0.5|cm|true"},
		{"len 1,50 cm", "len|1.50|1.5|cm|true"},
		// Nothing is guessed from here on.
		{"", ""},
		{"LVIDd", "LVIDd"},
		{"LVIDd 1.82", "LVIDd 1.82"},
		{"LVIDd 1.82 furlongs", "LVIDd 1.82 furlongs"},
		{"LVIDd 1.82 cm IVSd 0.4 cm", "LVIDd 1.82 cm IVSd 0.4 cm"},
		{"LVIDd 1.82 cm\r\nIVSd 0.4 cm", "LVIDd 1.82 cm IVSd 0.4 cm"},
		{"1 L 1.82 cm", "1 L 1.82 cm"},
		{"Dist 1: 1.82 cm", "Dist 1: 1.82 cm"},
		{"#1 1.82 cm", "#1 1.82 cm"},
		{"1.2 x 3.4 cm", "1.2 x 3.4 cm"},
		{"1.2x3.4 cm", "1.2x3.4 cm"},
		{"1.2-1.5 cm", "1.2-1.5 cm"},
		{"1.2 - 1.5 cm", "1.2 - 1.5 cm"},
		{"1.2/1.5 cm", "1.2/1.5 cm"},
		{"3.2 ± 0.1 cm", "3.2 ± 0.1 cm"},
		{"± 0.1 cm", "± 0.1 cm"},
		{"< 5 mm", "< 5 mm"},
		{"<5 mm", "<5 mm"},
		{"~5 mm", "~5 mm"},
		{"PSV - 45 cm/s", "PSV - 45 cm/s"},
		{"len 1,234 mm", "len 1,234 mm"},
		{"len 1.234,5 mm", "len 1.234,5 mm"},
		{"len 1,234.5 mm", "len 1,234.5 mm"},
		{"len 1. cm", "len 1. cm"},
		{"len 1e3 mm", "len 1e3 mm"},
		{"12:30 LVIDd 1.82 cm", "12:30 LVIDd 1.82 cm"},
		{"2030-01-02 1.82 cm", "2030-01-02 1.82 cm"},
		{"GA 38+2", "GA 38+2"},
		{"5 M", "5 M"},
		{"E/A 1.2", "E/A 1.2"},
		{"+ 1.82", "+ 1.82"},
	}
	for _, tt := range tests {
		r := ParseText(tt.text)
		got := r.Label
		if r.Value.Set {
			got = fmt.Sprintf("%s|%s|%v|%s|%v", r.Label, r.ValueText, r.Value.Value, r.Unit, r.DecimalComma)
		} else if r.ValueText+r.Unit+r.UnitText != "" || r.DecimalComma {
			t.Errorf("%q: value parts without a value: %+v", tt.text, r)
		}
		if got != tt.want {
			t.Errorf("%q: got %q, want %q", tt.text, got, tt.want)
		}
	}
}

func ExampleParseText() {
	r := ParseText("PSV: -45,3 cm/sec")
	fmt.Println(r.Label, r.Value.Value, r.Unit, r.UnitText, r.DecimalComma)
	// Output: PSV -45.3 cm/s cm/sec true
}
