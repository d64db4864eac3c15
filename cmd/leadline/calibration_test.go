package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"leadline/export/deid"
)

// calibrationHeaders are the headers of a check of devices. Those of the tables that
// an audit writes too are the design's.
var calibrationHeaders = map[string]string{
	"files": designHeaders["files"], "regions": designHeaders["regions"],
	"findings": designHeaders["findings"], "codebook": designHeaders["codebook"],
	"devices": "device,software,transducers,images,calibrated,studies,first,last",
}

// TestCalibrationHeaders: the tables carry these headers, and no other table is
// written.
func TestCalibrationHeaders(t *testing.T) {
	dir := t.TempDir()
	opts := calibrationOptions{runOptions: runOptions{
		out: filepath.Join(dir, "calibration.xlsx"), tables: filepath.Join(dir, "tables"),
		identity: deid.Study, failOn: failNever, quiet: true,
	}}
	var out, errs bytes.Buffer
	if err := runCalibration(context.Background(), []string{demoDir}, opts, streams{out: &out, err: &errs}, nil); err != nil {
		t.Fatal(err)
	}
	for name, want := range calibrationHeaders {
		if got := strings.Join(table(t, filepath.Join(opts.tables, name+".csv"))[0], ","); got != want {
			t.Errorf("%s.csv:\n%s\nwant\n%s", name, got, want)
		}
	}
	if files, _ := os.ReadDir(opts.tables); len(files) != len(calibrationHeaders) {
		t.Errorf("%d tables, want %d", len(files), len(calibrationHeaders))
	}
}
