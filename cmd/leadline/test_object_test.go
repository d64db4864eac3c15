package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestReadmeTestObject reads the test object of the README as a reader would copy it,
// and wants every key to be shown there.
func TestReadmeTestObject(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	_, after, found := strings.Cut(string(text), "\n    name: gel-block\n")
	if !found {
		t.Fatal("the README shows no test object")
	}
	block := "name: gel-block\n"
	for line := range strings.Lines(after) {
		code, indented := strings.CutPrefix(line, "    ")
		if !indented {
			break
		}
		block += code
	}
	file := filepath.Join(t.TempDir(), "ours.yaml")
	if err := os.WriteFile(file, []byte(block), 0o600); err != nil {
		t.Fatal(err)
	}
	o, err := loadTestObject(file, nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(o.Targets) != 1 || len(o.Baselines) != 2 || len(o.Scans.Temperatures) != 1 || o.Targets[0].Tolerance.Source != "our physicist" || !o.Material.PerDegree.Set || o.Note == "" {
		t.Errorf("%+v", o)
	}
}
