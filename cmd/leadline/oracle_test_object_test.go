package main

import (
	"bytes"
	"context"
	"path/filepath"
	"testing"

	"leadline/cmd/leadline/internal/demo"
	"leadline/export/deid"
)

// TestTestObjectTwice wants the errors, deviations and charts of the test object of
// the demo to be those that Python finds from the files.
func TestTestObjectTwice(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and hardly anything in it at once")
	}
	python := needPython(t)
	dir, out := t.TempDir(), t.TempDir()
	if _, err := demo.WriteTestObject(context.Background(), dir, demo.Options{Seed: 3, Blank: true}); err != nil {
		t.Fatal(err)
	}
	opts := calibrationOptions{phantom: filepath.Join(dir, "test-object.yaml"), runOptions: runOptions{
		out: filepath.Join(out, "c.xlsx"), tables: filepath.Join(out, "tables"), identity: deid.Study, failOn: failNever, quiet: true,
	}}
	var said bytes.Buffer
	if err := runCalibration(context.Background(), []string{dir}, opts, streams{out: &said, err: &said}, nil); err != nil {
		t.Fatal(err)
	}
	runOracle(t, python, "targets.py", opts.tables, dir)
}
