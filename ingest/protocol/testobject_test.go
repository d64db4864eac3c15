package protocol

import (
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"leadline/ingest/dcm"
	"leadline/ingest/internal/allocation"
)

// Every broken file has its message beside it. UPDATE_GOLDEN=1 writes the messages
// anew; read them then.
func TestBadTestObjects(t *testing.T) {
	files, err := filepath.Glob("testdata/bad-test-object/*.yaml")
	if err != nil || len(files) < 10 {
		t.Fatalf("%d broken files: %v", len(files), err)
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		o, err := ParseTestObject(filepath.Base(file), data)
		if err == nil || o != nil {
			t.Errorf("%s: ParseTestObject takes it", file)
			continue
		}
		golden(t, strings.TrimSuffix(file, ".yaml")+".txt", err.Error()+"\n")
	}
}

// golden holds a text to the file of a name, or writes it there.
func golden(t *testing.T, file, got string) {
	t.Helper()
	if os.Getenv("UPDATE_GOLDEN") != "" {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("%s:\ngot  %swant %s", file, got, want)
	}
}

// Every key of the file of a test object, once.
const wholeTestObject = `
language: 1
name: gel-block
title: Gel block
note: Kept at room temperature for a day.
scans:
  words: [test object*]
  patient-ids: [QA-1]
  studies: [1.2.3]
  temperature: 22
  temperatures: {2026-03-02: 24.5}
material:
  speed: 1500
  speed-uncertainty: 5
  at-degrees: 22
  per-degree: 1.5
  assumed-speed: 1550
  source: certificate
interval-months: 6
baseline:
  - {from: 2025-01-01, to: 2025-06-30, devices: [Tern 2]}
  - {from: 2025-02-01, to: 2025-07-31}
targets:
  - id: down
    title: Down
    direction: axial
    distance: 40
    uncertainty: 0.1
    tolerance-mm: 1
    tolerance-percent: 2
    tolerance-source: ours
    measures: [distance]
    labels: [down, "col*"]
  - {id: across, title: Across, direction: lateral, distance: 120, labels: across}
`

func TestWholeTestObject(t *testing.T) {
	day := func(s string) time.Time { d, _ := time.Parse(time.DateOnly, s); return d }
	got, err := ParseTestObject("f.yaml", []byte(wholeTestObject))
	if err != nil {
		t.Fatal(err)
	}
	ref := got.Targets[0].Measures[0]
	want := &TestObject{
		File: "f.yaml", Name: "gel-block", Title: "Gel block", Note: "Kept at room temperature for a day.",
		Scans: Scans{
			Words: []string{"test object*"}, PatientIDs: []string{"QA-1"}, Studies: []string{"1.2.3"},
			Temperature: dcm.Some(22.0), Temperatures: map[time.Time]float64{day("2026-03-02"): 24.5},
		},
		Material:       Material{SpeedMS: 1500, U: 5, AtDegrees: dcm.Some(22.0), PerDegree: dcm.Some(1.5), AssumedMS: 1550, Source: "certificate"},
		IntervalMonths: dcm.Some(6),
		Baselines: []Baseline{
			{From: day("2025-01-01"), To: day("2025-06-30"), Devices: []string{"Tern 2"}},
			{From: day("2025-02-01"), To: day("2025-07-31")},
		},
		Targets: []Target{
			{ID: "down", Title: "Down", Direction: Axial, DistanceMM: 40, U: 0.1, Tolerance: Tolerance{1, 2, "ours"}, Measures: []Ref{ref}, Labels: []string{"down", "col*"}},
			{ID: "across", Title: "Across", Direction: Lateral, DistanceMM: 120, Tolerance: tolerances[Lateral], Labels: []string{"across"}},
		},
	}
	if ref.ID != "distance" || ref.Line == 0 || !reflect.DeepEqual(got, want) {
		t.Errorf("%+v\nwant %+v", got, want)
	}
}

// The action levels are 1.5 mm or 1.5 % along the beam and 2 mm or 2 % across it, the
// larger one: AAPM Ultrasound Task Group 1, Goodsitt 1998 (second-hand,
// shared/reference/measurements.md 3.1).
func TestActionLevels(t *testing.T) {
	for _, c := range []struct {
		d              Direction
		distance, want float64
	}{{Axial, 40, 1.5}, {Axial, 100, 1.5}, {Axial, 160, 2.4}, {Lateral, 60, 2}, {Lateral, 150, 3}} {
		if got := tolerances[c.d].OfMM(c.distance); got < c.want-1e-12 || got > c.want+1e-12 {
			t.Errorf("%s, %g mm: %g mm, want %g", c.d, c.distance, got, c.want)
		}
	}
}

func TestLoadTestObject(t *testing.T) {
	if _, err := LoadTestObject("no-such.yaml"); err == nil || err.Error() != "no-such.yaml: expected a file with a test object, found no such file" {
		t.Error(err)
	}
	if _, err := LoadTestObject(t.TempDir()); err == nil || !strings.Contains(err.Error(), "expected a file, found a folder") {
		t.Error(err)
	}
}

// FuzzTestObject: an error or a test object, never both, within bounded memory.
func FuzzTestObject(f *testing.F) {
	files, err := filepath.Glob("testdata/bad-test-object/*.yaml")
	if err != nil || len(files) == 0 {
		f.Fatalf("no seeds: %v", err)
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Add([]byte(wholeTestObject))
	f.Fuzz(func(t *testing.T, data []byte) {
		var o *TestObject
		var err error
		if n := allocation.Of(func() { o, err = ParseTestObject("fuzz", data) }); n > allocation.Linear(len(data), perByte) {
			t.Fatalf("%d bytes allocated for %d bytes of file", n, len(data))
		}
		if (err == nil) == (o == nil) {
			t.Fatalf("test object %v and error %v", o, err)
		}
		if o == nil {
			return
		}
		for _, target := range o.Targets {
			if target.DistanceMM <= 0 || target.Tolerance.OfMM(target.DistanceMM) <= 0 || target.Direction == "" {
				t.Errorf("%+v", target)
			}
		}
	})
}
