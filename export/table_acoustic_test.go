package export

import (
	"slices"
	"strings"
	"testing"

	"leadline/analyse"
	"leadline/export/deid"
	"leadline/ingest"
)

// acousticSample is a check of two devices of which months differ in what they count.
func acousticSample() *analyse.Calibration {
	tern, knot := &ingest.Device{Manufacturer: "Orrin & Vale", Model: "Tern", Serial: "OV-1"}, &ingest.Device{Manufacturer: "Orrin & Vale", Model: "Knot", Serial: "OV-2"}
	limit := &ingest.AcousticLimit{Index: ingest.IndexMI, Exam: "lung", Above: 0.3, Seen: "seen", Source: "A 2009"}
	row := func(d *ingest.Device, month string, above, with, images int) analyse.AcousticRow {
		r := analyse.AcousticRow{Exam: "lung", Told: "label", Device: d, Month: month, Index: ingest.IndexMI, Images: images, With: with, Above: above, SetAside: 1}
		if with > 0 {
			r.Limit, r.Share, r.Max = limit, ingest.Some(float64(above)/float64(with)), ingest.Some(0.9)
		}
		return r
	}
	return &analyse.Calibration{
		Result: &analyse.Result{},
		Acoustic: []analyse.AcousticRow{
			row(tern, "2026-01", 1, 4, 8), row(tern, "2026-02", 3, 9, 12), row(tern, "2026-03", 2, 5, 7), row(knot, "2026-01", 0, 2, 3), row(knot, "", 0, 0, 30),
		},
		AcousticTotals: []analyse.AcousticTotal{{Exam: "lung", Index: ingest.IndexMI, Limit: limit, Above: 6, With: 20, Max: 0.9,
			Devices: []analyse.AcousticShare{{Device: tern, Above: 6, With: 18}, {Device: knot, With: 2}}}},
	}
}

func acousticColumns(t *testing.T, c *analyse.Calibration, identity deid.Identity, names ...string) []string {
	t.Helper()
	tables := CalibrationTables(c, Options{Identity: identity, Key: []byte("k")})
	at := slices.IndexFunc(tables, func(x Table) bool { return x.Name == "acoustic" })
	var rows []string
	tables[at].Rows(func(cells []Cell) bool {
		var row []string
		for _, name := range names {
			i := slices.IndexFunc(tables[at].Columns, func(c Column) bool { return c.Name == name })
			row = append(row, cells[i].Text)
		}
		rows = append(rows, strings.Join(row, " "))
		return true
	})
	return rows
}

// TestAcousticOrder: rows stand in the order of months; with identity none they do not,
// for it would tell what the shift of dates hides.
func TestAcousticOrder(t *testing.T) {
	c := acousticSample()
	if got, want := acousticColumns(t, c, deid.Study, "images_above"), []string{"1", "3", "2", "0", ""}; !slices.Equal(got, want) {
		t.Errorf("study: %q, want %q", got, want)
	}
	if got, want := acousticColumns(t, c, deid.None, "images_above"), []string{"3", "2", "1", "0", ""}; !slices.Equal(got, want) {
		t.Errorf("none: %q, want %q", got, want)
	}
	for _, month := range acousticColumns(t, c, deid.None, "month") {
		if strings.Contains(month, "2026") {
			t.Errorf("none shows month %s", month)
		}
	}
	if c.Acoustic[0].Above != 1 {
		t.Error("the rows themselves were sorted")
	}
}

// TestAcousticCounts: images that were set aside are neither with the index nor without.
func TestAcousticCounts(t *testing.T) {
	got := acousticColumns(t, acousticSample(), deid.Study, "images_with_index", "images_without_index", "images_set_aside")
	if want := []string{"4 3 1", "9 2 1", "5 1 1", "2 0 1", "0 29 1"}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

// TestAcousticFirst: the overview says what lies above which limit, and by whom; that
// no header gives an index; and nothing where nothing was held against limits.
func TestAcousticFirst(t *testing.T) {
	c := acousticSample()
	w := newWriter(c.Result, deid.New(deid.Study, nil))
	sections := w.acousticFirst(c)
	if len(sections) != 1 || len(sections[0].Lines) != 1 {
		t.Fatalf("%+v", sections)
	}
	cells := sections[0].Lines[0].Cells
	if cells[0].Text != "lung: MI above 0.3" || cells[1].Number != 6 || cells[2].Text != "of 20 images that give it, the largest 0.9; Orrin & Vale Tern OV-1 6 of 18" {
		t.Errorf("%+v", cells)
	}
	for range 4 {
		c.AcousticTotals[0].Devices = append(c.AcousticTotals[0].Devices, analyse.AcousticShare{Device: c.AcousticTotals[0].Devices[1].Device, Above: 1, With: 2})
	}
	if text := w.shares(&c.AcousticTotals[0]); !strings.HasSuffix(text, "; 2 more devices") {
		t.Error(text)
	}
	c.AcousticTotals = nil
	if s := w.acousticFirst(c); len(s) != 1 || len(s[0].Lines) != 0 || !strings.Contains(s[0].Paragraphs[0], "nothing is known") {
		t.Errorf("%+v", s)
	}
	c.Acoustic = nil
	if s := w.acousticFirst(c); len(s) != 0 {
		t.Errorf("%+v", s)
	}
}
