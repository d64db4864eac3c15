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
