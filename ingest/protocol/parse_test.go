package protocol

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"leadline/ingest/dcm"
)

// Every broken file has its message beside it. UPDATE_GOLDEN=1 writes the
// messages anew; read them then.
func TestBadFiles(t *testing.T) {
	files, err := filepath.Glob("testdata/bad/*.yaml")
	if err != nil || len(files) < 15 {
		t.Fatalf("%d broken files: %v", len(files), err)
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		p, err := Parse(filepath.Base(file), data)
		if err == nil || p != nil {
			t.Errorf("%s: Parse takes it", file)
			continue
		}
		golden(t, strings.TrimSuffix(file, ".yaml")+".txt", err.Error()+"\n")
	}
}

// Every key of the language, once.
const whole = `
language: 1
name: whole
version: 3
title: Everything
note: A note.
sources: {unit: local policy, paper: Someone 2020}
when:
  body-parts: HEART
  regions: [SCT 87878005]
  procedures: [SCT 431852008, 99UNIT ECHO.1]
  words: [echo*]
  image-types: [TTE]
  views: [subcostal]
  view-names: [Window 9]
  view-codes: 99UNIT W9
  measures: [tapse, duct-diameter]
  at-least: 3
  devices: [tern]
  min-age-days: 1
  max-age-days: 28
uncertainty: {scale-tolerance-percent: 2, placement-px: {tapse: 1.5}}
items:
  - {id: a, title: A, kind: header, fact: patient-weight, min: 0.2, max: 10, sources: [unit, paper], need: preferred, severity: note, note: N, alternative: M}
  - id: b
    title: B
    kind: image
    view: [subcostal, suprasternal]
    view-names: Window 3
    view-codes: [99UNIT W3]
    mode: 2d
    type: clip
    side: left
    count: 2
    min-seconds: 1.5
    min-frames: 30
    min-frame-rate: 25
    min-depth-mm: 40
    max-depth-mm: 90
    calibrated: true
    sources: unit
    if: {measure: tapse, view: subcostal, view-names: [Window 3, Window 4], view-codes: 99UNIT W3, fact: operator}
  - {id: c, title: C, sources: unit, any-of: [{kind: measure, measure: [tapse, mapse], side: right, count: 3, plane: m-mode, in-report: true, with-caliper: true, calibrated: true}, {kind: index, index: some-index}]}
  - {id: d, title: D, sources: unit, kind: report, state: verified, within-hours: 24}
  - {id: e, title: E, sources: unit, kind: report}
  - {id: f, title: F, sources: unit, kind: image, view: subcostal, type: any}
`

func TestParse(t *testing.T) {
	p, err := Parse("whole.yaml", []byte(whole))
	if err != nil {
		t.Fatal(err)
	}
	ref := func(id string, line, column int) Ref { return Ref{ID: id, Line: line, Column: column} }
	want := &Protocol{
		File: "whole.yaml", Name: "whole", Version: "3", Title: "Everything", Note: "A note.",
		Sources: []string{"local policy", "Someone 2020"},
		When: When{
			BodyParts: []string{"HEART"}, Regions: []dcm.Code{{Value: "87878005", Scheme: "SCT"}},
			Procedures: []dcm.Code{{Value: "431852008", Scheme: "SCT"}, {Value: "ECHO.1", Scheme: "99UNIT"}},
			Words:      []string{"echo*"}, ImageTypes: []string{"TTE"}, Shown: Shown{Views: []string{"subcostal"}, ViewNames: []string{"Window 9"}, ViewCodes: []dcm.Code{{Value: "W9", Scheme: "99UNIT"}}},
			Measures: []Ref{ref("tapse", 17, 14), ref("duct-diameter", 17, 21)}, AtLeast: 3,
			Devices: []string{"tern"}, MinAgeDays: dcm.Some(1.0), MaxAgeDays: dcm.Some(28.0),
		},
		Uncertainty: Uncertainty{ScaleTolerancePercent: dcm.Some(2.0), Placement: []Placement{{ref("tapse", 22, 58), 1.5}}},
		Items: []Item{
			{ID: "a", Title: "A", Severity: "note", Sources: []string{"local policy", "Someone 2020"}, Note: "N", Alternative: "M",
				Rules: []Rule{{Kind: KindHeader, Header: &HeaderRule{Fact: FactPatientWeight, Min: dcm.Some(0.2), Max: dcm.Some(10.0)}}}},
			{ID: "b", Title: "B", Required: true, Sources: []string{"local policy"},
				If: &Condition{Measures: []Ref{ref("tapse", 42, 19)}, Shown: Shown{Views: []string{"subcostal"}, ViewNames: []string{"Window 3", "Window 4"}, ViewCodes: []dcm.Code{{Value: "W3", Scheme: "99UNIT"}}}, Fact: FactOperator},
				Rules: []Rule{{Kind: KindImage, Image: &ImageRule{Shown: Shown{Views: []string{"subcostal", "suprasternal"}, ViewNames: []string{"Window 3"}, ViewCodes: []dcm.Code{{Value: "W3", Scheme: "99UNIT"}}}, Mode: Mode2D, Type: "clip",
					Side: "left", Count: 2, MinSeconds: dcm.Some(1.5), MinFrames: 30, MinFrameRate: dcm.Some(25.0), MinDepthMM: dcm.Some(40.0), MaxDepthMM: dcm.Some(90.0), Calibrated: true}}}},
			{ID: "c", Title: "C", Required: true, Sources: []string{"local policy"}, Rules: []Rule{
				{Kind: KindMeasure, Measure: &MeasureRule{Measures: []Ref{ref("tapse", 43, 73), ref("mapse", 43, 80)}, Side: "right", Count: 3, Plane: "m-mode", InReport: true, WithCaliper: true, Calibrated: true}},
				{Kind: KindIndex, Index: &Ref{"some-index", 43, 203}}}},
			{ID: "d", Title: "D", Required: true, Sources: []string{"local policy"}, Rules: []Rule{{Kind: KindReport, Report: &ReportRule{State: StateVerified, WithinHours: dcm.Some(24.0)}}}},
			{ID: "e", Title: "E", Required: true, Sources: []string{"local policy"}, Rules: []Rule{{Kind: KindReport, Report: &ReportRule{State: StateAny}}}},
			{ID: "f", Title: "F", Required: true, Sources: []string{"local policy"}, Rules: []Rule{{Kind: KindImage, Image: &ImageRule{Shown: Shown{Views: []string{"subcostal"}}, Count: 1}}}},
		},
	}
	if !reflect.DeepEqual(p, want) {
		t.Errorf("got  %+v\nwant %+v", p, want)
		for i := range p.Items {
			if i < len(want.Items) && !reflect.DeepEqual(p.Items[i], want.Items[i]) {
				t.Errorf("item %d\ngot  %+v\nwant %+v", i, p.Items[i], want.Items[i])
			}
		}
	}
	var ids []string
	for _, r := range append(p.MeasureRefs(), p.IndexRefs()...) {
		ids = append(ids, r.ID)
	}
	if want := []string{"tapse", "duct-diameter", "tapse", "tapse", "tapse", "mapse", "some-index"}; !slices.Equal(ids, want) {
		t.Errorf("references %v, want %v", ids, want)
	}
}

// Every fault is a *FileError that names the file.
func TestFileErrors(t *testing.T) {
	_, err := Parse("x.yaml", []byte("language: 3\nname: X Y\n"))
	joined, ok := err.(interface{ Unwrap() []error })
	if !ok || len(joined.Unwrap()) < 3 {
		t.Fatalf("not several errors: %v", err)
	}
	for _, e := range joined.Unwrap() {
		var fe *FileError
		if !errors.As(e, &fe) || fe.File != "x.yaml" || fe.Line == 0 || fe.Column == 0 || fe.Expected == "" {
			t.Errorf("no whole FileError: %#v", e)
		}
	}
}

// TestLongFiles: ten thousand lines are read in time that nobody notices, and a file
// that is wrong from end to end tells the first faults and that there are more.
func TestLongFiles(t *testing.T) {
	head := "language: 1\nname: long\nversion: 1\ntitle: Long\nsources: {u: ours}\nwhen: {body-parts: HEART}\nitems:\n"
	var good, bad strings.Builder
	for i := range 2500 {
		fmt.Fprintf(&good, "  - id: item-%d\n    title: Item %d\n    sources: u\n    kind: report\n", i, i)
		fmt.Fprintf(&bad, "  - id: item-%d\n    title: Item %d\n    sources: u\n    kind: raport\n", i, i)
	}
	p, err := Parse("long.yaml", []byte(head+good.String()))
	if err != nil || len(p.Items) != 2500 {
		t.Errorf("a long file: %v", err)
	}
	_, err = Parse("long.yaml", []byte(head+bad.String()))
	if err == nil || strings.Count(err.Error(), "\n") != maxErrors {
		t.Fatalf("a long file of faults: %v", err)
	}
	for _, want := range []string{`long.yaml:11:11: expected a word for kind: header, image, measure, index, report, found "raport"; the nearest word is "report"`, "more errors were left out"} {
		if !strings.Contains(err.Error(), want) {
			t.Errorf("%v\nlacks %s", err, want)
		}
	}
}
