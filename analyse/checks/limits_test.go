package checks

import (
	"testing"

	"leadline/analyse"
	"leadline/ingest"
)

// TestLimits holds limits that are numbers from both sides, near by.
func TestLimits(t *testing.T) {
	born := func(clock, date string) bool {
		img := picture("1", clock)
		img.Patient.BirthDate = date
		return imageBeforeBirth(studyWith(img)) != nil
	}
	far := func(x int64) bool {
		raw := boxed(1, 1, 0, 0, 99, 99, x, 0, ingest.UnitCM, ingest.UnitCM, 0.01, 0.01)
		img := &analyse.Image{Instance: &ingest.Instance{Image: &ingest.Image{Columns: 100, Rows: 100}},
			Picture: &analyse.Picture{Regions: []analyse.Region{{Raw: &raw, Calibrated: true}}}}
		return misplaced(img, false) != ""
	}
	for name, c := range map[string]struct{ got, want bool }{
		"a day before the birth date":           {born("000000", "20260908"), false}, // pictures are of the 7th
		"more than a day before the birth date": {born("235959", "20260909"), true},
		"the lightest":                          {PlausibleWeight(0.2), true},
		"lighter":                               {PlausibleWeight(0.199), false},
		"the heaviest":                          {PlausibleWeight(10), true},
		"heavier":                               {PlausibleWeight(10.01), false},
		"5 % above the Nyquist limit":           {offLimit(1049, 1000, "Hz", "") != "", false},
		"more above the Nyquist limit":          {offLimit(1051, 1000, "Hz", "") != "", true},
		"a twentieth of the Nyquist limit":      {offLimit(50, 1000, "Hz", "") != "", false},
		"less of the Nyquist limit":             {offLimit(49.9, 1000, "Hz", "") != "", true},
		"ten pictures off":                      {far(1000), false},
		"farther off":                           {far(1001), true},
		"ten pictures off to the left":          {far(-1000), false},
		"begins a twentieth below":              {analyse.Enlarged(5, 100), false},
		"begins farther below":                  {analyse.Enlarged(5.1, 100), true},
		"farther off to the left":               {far(-1001), true},
	} {
		if c.got != c.want {
			t.Errorf("%s: %t, want %t", name, c.got, c.want)
		}
	}
}
