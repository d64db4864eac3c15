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

// TestShowGolden holds what show prints of one file of each kind, to be read as a
// physicist would read it; UPDATE_GOLDEN=1 writes it anew.
func TestShowGolden(t *testing.T) {
	const outpatients, ward = "media/outpatients/20260903-004/", "media/ward-a/20260901-001/"
	for name, files := range map[string][]string{
		"still":             {outpatients + "IM0001"},
		"m-mode":            {ward + "IM0002"},
		"spectral":          {ward + "IM0008"},
		"clip":              {ward + "IM0009"},
		"report-and-images": {outpatients + "IM0001", outpatients + "IM0002", outpatients + "IM0003", outpatients + "IM0004"},
		"presentation":      {ward + "IM0001", ward + "IM0015"},
	} {
		t.Run(name, func(t *testing.T) {
			opts := showOptions{identity: deid.Study}
			if len(files) == 1 {
				opts.calipers = []string{"testdata/show/calipers.csv"}
			}
			paths := make([]string, len(files))
			for i, f := range files {
				paths[i] = filepath.Join(demoDir, f)
			}
			var out bytes.Buffer
			if err := runShow(context.Background(), paths, opts, &out); err != nil {
				t.Fatal(err)
			}
			golden := filepath.Join("testdata/show", name+".txt")
			if os.Getenv("UPDATE_GOLDEN") != "" {
				if err := os.WriteFile(golden, out.Bytes(), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(golden)
			if err != nil {
				t.Fatal(err)
			}
			if got := out.String(); got != string(want) {
				t.Errorf("show differs from %s; UPDATE_GOLDEN=1 writes it anew. It is\n%s", golden, got)
			}
			for line := range strings.Lines(out.String()) {
				if n := len([]rune(strings.TrimRight(line, "\n"))); n > 80 {
					t.Errorf("a line of %d: %s", n, line)
				}
			}
			for _, block := range strings.Split(out.String(), "\n\n") {
				if strings.Contains(block, "\n  Value\n") {
					for _, problem := range calculate(block) {
						t.Error(problem)
					}
				}
			}
		})
	}
}
