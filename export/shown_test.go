package export

import "testing"

// TestShown: a sheet shows words for ids and signs for unit codes; other columns, and
// what is no text, stay as they are.
func TestShown(t *testing.T) {
	for _, c := range []struct {
		wording  Wording
		in, want string
	}{
		{AsWritten, "not-rebuilt", "not-rebuilt"},
		{InWords, "not-rebuilt", "not rebuilt"},
		{InWords, "icc-2-1", "ICC(2,1)"},
		{InWords, "not-dicom", "not DICOM"},
		{InWords, "2d; pw; colour-m-mode", "2D; pulsed wave; colour M-mode"},
		{ViewTitles, "subcostal-inferior-vena-cava", "Subcostal inferior vena cava"},
		{ViewTitles, "PSAX of the unit", "PSAX of the unit"},
		{MeasureTitles, "measurement 2 (r-r-interval); study header (weight)", "measurement 2 (R-R interval); study header (weight)"},
		{UnitSigns, "mm2", "mm²"},
		{UnitSigns, "1", ""},
		{UnitSigns, "furlong-per-fortnight", "furlong-per-fortnight"},
	} {
		column := Column{Wording: c.wording}
		if got := column.Shown(Cell{Kind: Text, Text: c.in}).Text; got != c.want {
			t.Errorf("%d %s: %q, want %q", c.wording, c.in, got, c.want)
		}
		if got := column.Shown(Cell{Kind: Points, Text: "1"}); got != (Cell{Kind: Points, Text: "1"}) {
			t.Errorf("%d changes what is no text: %v", c.wording, got)
		}
	}
}
