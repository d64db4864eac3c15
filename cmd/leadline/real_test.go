package main

import (
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"leadline/analyse"
	"leadline/analyse/audit"
	"leadline/ingest"
)

// realDir holds real files with licences of their own; it is never committed.
const realDir = "../../../shared/data"

func needReal(t *testing.T) {
	t.Helper()
	if _, err := os.Stat(realDir); err != nil {
		t.Skip("skipped: the shared folder of real files is not here")
	}
}

func readCSV(t *testing.T, path string) []map[string]string {
	t.Helper()
	rows := table(t, path)
	var out []map[string]string
	for _, r := range rows[1:] {
		m := map[string]string{}
		for i, name := range rows[0] {
			m[name] = r[i]
		}
		out = append(out, m)
	}
	return out
}

// auditReal audits real files with the given calipers and returns all measurements.
func auditReal(t *testing.T, dir string, calipers []ingest.CaliperRow) []analyse.Measurement {
	t.Helper()
	archive, err := ingest.Load(context.Background(), []string{dir}, ingest.Options{})
	if err != nil {
		t.Fatal(err)
	}
	result, err := audit.Run(context.Background(), archive, audit.Options{Calipers: calipers})
	if err != nil {
		t.Fatal(err)
	}
	var all []analyse.Measurement
	for _, s := range result.Studies {
		all = append(all, s.Measurements...)
	}
	return all
}

// TestPrintedReadings is the outside check of the main job: calipers read off real
// images of four makers are rebuilt to what the device printed, within the printed
// rounding plus U. The readings are pixel indices; the table wants continuous
// coordinates, half a pixel on.
func TestPrintedReadings(t *testing.T) {
	needReal(t)
	readings := readCSV(t, realDir+"/caliper-readings.csv")
	table := filepath.Join(t.TempDir(), "calipers.csv")
	var b strings.Builder
	b.WriteString("path,label,geometry,points,value,unit\n")
	for _, r := range readings {
		value, unit, _ := strings.Cut(r["printed_value"], " ")
		fmt.Fprintf(&b, "%s,%s,line,\"%s,%s %s,%s\",%s,%s\n", r["file"], r["label"],
			half(t, r["x1"]), half(t, r["y1"]), half(t, r["x2"]), half(t, r["y2"]), value, unit)
	}
	if err := os.WriteFile(table, []byte(b.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	rows, err := ingest.ReadCalipers(table)
	if err != nil {
		t.Fatal(err)
	}
	found := map[string]analyse.Measurement{}
	for _, m := range auditReal(t, realDir+"/real/us", rows) {
		if m.Source == analyse.SourceTable {
			found[m.Label] = m
		}
	}
	for _, r := range readings {
		m, ok := found[r["label"]]
		if !ok || m.Verdict != analyse.VerdictAgrees {
			t.Errorf("%s: printed %s, verdict %q, note %q", r["label"], r["printed_value"], m.Verdict, m.Note)
			continue
		}
		t.Logf("%s: printed %s, rebuilt %.4f ± %.4f %s", r["label"], r["printed_value"], m.Rebuilt.Value, m.Rebuilt.ExpandedU(), m.Rebuilt.Unit)
	}
}

func half(t *testing.T, index string) string {
	t.Helper()
	v, err := strconv.ParseFloat(index, 64)
	if err != nil {
		t.Fatal(err)
	}
	return strconv.FormatFloat(v+0.5, 'g', -1, 64)
}

// TestReportCoordinates rebuilds the lengths of real reports from their
// coordinates, and wants the values recomputed by hand and their verdicts: the
// reported length agrees only where the hand's difference is within the
// uncertainty of two points.
func TestReportCoordinates(t *testing.T) {
	needReal(t)
	rows := readCSV(t, realDir+"/report-coordinates.csv")
	// Reports write trailing zeros that the table leaves out: match by value.
	byValue := map[float64]analyse.Measurement{}
	for _, m := range auditReal(t, realDir+"/real/sr-ct", nil) {
		if m.Reported != nil {
			byValue[m.Reported.Value] = m
		}
	}
	if len(rows) != 16 {
		t.Fatalf("%d rows, expected 16", len(rows))
	}
	differing := 0
	for _, r := range rows {
		reportedMM, err := strconv.ParseFloat(r["reported_mm"], 64)
		if err != nil {
			t.Fatal(err)
		}
		m, ok := byValue[reportedMM]
		if !ok || m.Rebuilt == nil {
			t.Errorf("%s mm: not rebuilt (%s)", r["reported_mm"], m.Note)
			continue
		}
		if len(m.Faults) > 0 {
			t.Errorf("%s mm: %v: nothing in the image tells of a fault", r["reported_mm"], m.Faults)
		}
		want, _ := strconv.ParseFloat(r["recomputed_mm"], 64)
		percent, _ := strconv.ParseFloat(r["difference_percent"], 64)
		// The hand's values are written to three places.
		if math.Abs(m.Rebuilt.Value-want) > 0.0006 {
			t.Errorf("%s mm: rebuilt %.4f, by hand %.3f", r["reported_mm"], m.Rebuilt.Value, want)
		}
		verdict := analyse.VerdictAgrees
		if math.Abs(percent) > 0.1 {
			verdict = analyse.VerdictDiffers
			differing++
		}
		if m.Verdict != verdict {
			t.Errorf("%s mm: verdict %s, expected %s", r["reported_mm"], m.Verdict, verdict)
		}
	}
	if differing != 14 {
		t.Errorf("%d reports differ by the hand's table, expected 14", differing)
	}
}

// realScaleFindings are the findings about scale, timing and history in the real
// ultrasound files, each judged by hand against the header and, where the picture
// shows a scale, against that: file, finding, and what the message must name.
var realScaleFindings = [][3]string{
	// Bounds of 595 by 414 in a picture of 320 by 240.
	{"examples_ybr_color.dcm", "region-outside-image", "1.86 times its width and 1.73 times its height"},
	// Max X1 800 of 800 columns.
	{"OBXXXX1A.dcm", "region-bound-exclusive", "column 800"},
	{"no-pixel-spacing.dcm", "region-bound-exclusive", "column 800"},
	// Columns 743 to 743.
	{"no-pixel-spacing.dcm", "region-bounds-empty", "columns 743 to 743"},
	// The reference pixel is minus the region's corner: the picture's first pixel.
	{"OBXXXX1A.dcm", "trace-reference-misplaced", "region 2"},
	{"no-pixel-spacing.dcm", "trace-reference-misplaced", "region 2"},
	// 512, 28 in a region from 80, 28 to 944, 568: the rulers of the picture have
	// their zeros in column 512 and row 28.
	{"JPEGLosslessP14SV1_3s_2f_u_08_08.dcm", "reference-pixel-misplaced", "512, 28"},
	{"JPEGLosslessP14SV1_3s_2f_u_08_08.dcm", "trace-reference-misplaced", "86, 742"},
	// 37 frames of 31.97 ms last the stated 1.183 s; the file holds 2.
	{"JPEGLosslessP14SV1_3s_2f_u_08_08.dcm", "frame-timing-contradicts", "Effective Duration says 1.183 s"},
	// 202 rows of 0.2294 cm; the marks beside the sector are 22.9 pixels apart, as are
	// the reference value and pixel: 0.0436 cm.
	{"IM00001.fragmented_no_bot_jpeg_baseline.50.dcm", "region-size-implausible", "0.0436 cm a pixel"},
	// Positive Physical Delta Y under a printed scale that grows upward.
	{"I_000038.dcm", "spectral-sign", ""},
	{"I_000039.dcm", "spectral-sign", ""},
	// A ratio of 95 in the header.
	{"will-jxl.dcm", "lossy-history", "95 to 1"},
	// Region elements without their sequence.
	{"GH364.dcm", "region-sequence-lost", ""},
}

// notOfScale are the findings of other kinds, which this test does not list.
var notOfScale = map[string]bool{
	"calibration-missing": true, "header-value-unreadable": true, "secondary-capture": true, "burned-in-unknown": true,
	"burned-in-measurements": true, "weight-implausible": true, "zone-missing": true,
}

// TestRealScales audits the real ultrasound files and wants every finding about
// their scales and timing that was judged right, and no other.
func TestRealScales(t *testing.T) {
	needReal(t)
	archive, err := ingest.Load(context.Background(), []string{realDir + "/real/us"}, ingest.Options{})
	if err != nil {
		t.Fatal(err)
	}
	result, err := audit.Run(context.Background(), archive, audit.Options{})
	if err != nil {
		t.Fatal(err)
	}
	met := make([]int, len(realScaleFindings))
	for _, f := range result.Findings {
		if notOfScale[f.ID] {
			continue
		}
		known := false
		for i, want := range realScaleFindings {
			if strings.HasSuffix(f.Path, want[0]) && f.ID == want[1] && strings.Contains(f.Message, want[2]) {
				met[i], known = met[i]+1, true
			}
		}
		if !known {
			t.Errorf("not judged right by hand: %s in %s: %s", f.ID, filepath.Base(f.Path), f.Message)
		}
	}
	for i, n := range met {
		if n != 1 {
			t.Errorf("%v found %d times", realScaleFindings[i], n)
		}
	}
}

// TestRealClocks audits the real ultrasound files and wants what was judged by hand of
// their clocks: of two clips with a time for each frame one device wrote, one has steps
// of 40 ms among steps of 20 ms (I_000018); every other verdict is that there is
// nothing to see, or that one file a device cannot tell.
func TestRealClocks(t *testing.T) {
	needReal(t)
	archive, err := ingest.Load(context.Background(), []string{realDir + "/real/us"}, ingest.Options{})
	if err != nil {
		t.Fatal(err)
	}
	result, err := audit.Run(context.Background(), archive, audit.Options{})
	if err != nil {
		t.Fatal(err)
	}
	var looks []string
	undecided := 0
	for _, c := range result.Clocks {
		for _, f := range c.Facts {
			if f.Verdict == analyse.ClockLook {
				looks = append(looks, fmt.Sprintf("%s %s: %s", c.Device.Manufacturer, f.Aspect, f.Evidence))
			}
			if f.Aspect == analyse.AspectRounding && f.N > 0 && f.Verdict == analyse.ClockUnknown {
				undecided++
			}
		}
	}
	if len(looks) != 1 || !strings.HasPrefix(looks[0], "ACUSON frame-intervals: 1 of 2 clips with a time for each frame: 4 steps as long as two or more") {
		t.Errorf("to look at: %q", looks)
	}
	// Frame Time 30 with Cine Rate 33 (I_000001), and 100 with nothing beside it.
	if undecided != 2 {
		t.Errorf("%d devices with a whole frame time that nothing confirms, want 2", undecided)
	}
}
