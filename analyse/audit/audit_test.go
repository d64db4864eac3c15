package audit

import (
	"context"
	"errors"
	"slices"
	"testing"
	"time"

	"leadline/analyse"
	"leadline/analyse/checks"
	"leadline/ingest"
	"leadline/ingest/protocol"
	"leadline/ingest/report"
)

// calibrated is a picture of 100 by 100 pixels of 0.2 mm.
func calibrated(study, sop, path string, at time.Time) *ingest.Instance {
	return &ingest.Instance{
		Path: path, SOPInstanceUID: sop, Acquisition: ingest.Stamp{T: at, HasTime: true},
		Study:   &ingest.Study{UID: study, Start: ingest.Stamp{T: at, HasTime: true}},
		Series:  &ingest.Series{Modality: "US"},
		Patient: &ingest.Patient{ID: "P"}, Device: &ingest.Device{Model: "Tern"},
		Image: &ingest.Image{Rows: 100, Columns: 100, Frames: 1, BurnedIn: "NO", Regions: []ingest.Region{{
			Ordinal: 1, SpatialFormat: ingest.Some(uint16(1)), DataType: ingest.Some(uint16(1)),
			UnitsX: ingest.Some(uint16(3)), UnitsY: ingest.Some(uint16(3)), DeltaX: ingest.Some(0.02), DeltaY: ingest.Some(0.02),
			MinX0: ingest.Some(ingest.Index(0)), MinY0: ingest.Some(ingest.Index(0)), MaxX1: ingest.Some(ingest.Index(99)), MaxY1: ingest.Some(ingest.Index(99)),
		}}},
	}
}

var noon = time.Date(2026, 9, 14, 12, 0, 0, 0, time.UTC)

func caliper(path, sop string) ingest.CaliperRow {
	return ingest.CaliperRow{
		Table: "t.csv", Line: 2, Path: path, SOPUID: sop, Label: "Dist", Geometry: ingest.GeometryLine,
		Points: []ingest.Point{{X: 10, Y: 10}, {X: 40, Y: 50}},
	}
}

// TestCalipersFindTheirImage matches rows by UID, by path, and by the end of a
// path; a row that fits none or two is a finding, never lost.
func TestCalipersFindTheirImage(t *testing.T) {
	archive := &ingest.Archive{Instances: []*ingest.Instance{
		calibrated("S", "1.1", "in/a/IM1", noon), calibrated("S", "1.2", "in/b/IM1", noon), calibrated("S", "1.3", "in/b/IM2", noon),
	}}
	for _, c := range []struct {
		row  ingest.CaliperRow
		want string
	}{
		{caliper("", "1.2"), "1.2"}, {caliper("in/a/IM1", ""), "1.1"}, {caliper("b/IM1", ""), "1.2"},
		{caliper("IM2", ""), "1.3"}, {caliper("IM1", ""), ""}, {caliper("M2", ""), ""}, {caliper("", "9.9"), ""},
	} {
		result, err := Run(context.Background(), archive, Options{Calipers: []ingest.CaliperRow{c.row}})
		if err != nil {
			t.Fatal(err)
		}
		ms := result.Studies[0].Measurements
		if c.want == "" {
			if len(ms) != 0 || len(result.Findings) != 2 || result.Findings[0].ID != "image-not-found" || result.Findings[1].ID != "zone-missing" {
				t.Errorf("%q %q: %d measurements, findings %v", c.row.Path, c.row.SOPUID, len(ms), result.Findings)
			}
			continue
		}
		// 30 by 40 pixels of 0.2 mm: 50 px · 0.2 mm = 10 mm.
		if len(ms) != 1 || ms[0].SOPUID != c.want || ms[0].Rebuilt == nil || ms[0].Rebuilt.Value < 9.999999 || ms[0].Rebuilt.Value > 10.000001 {
			t.Errorf("%q %q: %+v", c.row.Path, c.row.SOPUID, ms)
		}
	}
}

func TestDates(t *testing.T) {
	archive := &ingest.Archive{Instances: []*ingest.Instance{
		calibrated("A", "1", "1", noon), calibrated("B", "2", "2", noon.AddDate(0, 0, 1)), calibrated("C", "3", "3", noon.AddDate(0, 0, 2)),
	}}
	archive.Instances[2].Study.Start = ingest.Stamp{}
	archive.Instances[2].Acquisition = ingest.Stamp{}
	day := time.Date(2026, 9, 15, 0, 0, 0, 0, time.UTC)
	result, err := Run(context.Background(), archive, Options{Since: day, Until: day})
	if err != nil {
		t.Fatal(err)
	}
	if len(result.Studies) != 2 || result.LeftOut != 1 || len(result.OutOfRange) != 1 || result.OutOfRange[0].UID != "A" || result.Since != "2026-09-15" {
		t.Errorf("%d studies, %d left out: the undated one is kept, the day itself too", len(result.Studies), result.LeftOut)
	}
}

func TestCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	_, err := Run(ctx, &ingest.Archive{Instances: []*ingest.Instance{calibrated("A", "1", "1", noon)}}, Options{})
	if !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
}

// TestReportState takes the furthest state, and the earliest report of it.
func TestReportState(t *testing.T) {
	made := func(flag, verified string, hours int) *ingest.Instance {
		return &ingest.Instance{
			Report:  &report.Document{CompletionFlag: flag, VerificationFlag: verified},
			Content: ingest.Stamp{T: noon.Add(time.Duration(hours) * time.Hour), HasTime: true},
		}
	}
	s := &analyse.Study{Images: []*analyse.Image{{Picture: &analyse.Picture{}}}, First: ingest.Stamp{T: noon, HasTime: true}, Last: ingest.Stamp{T: noon, HasTime: true}}
	for _, c := range []struct {
		reports []*ingest.Instance
		state   string
		hours   ingest.Optional[float64]
	}{
		{nil, "none", ingest.Optional[float64]{}},
		{[]*ingest.Instance{made("PARTIAL", "", 1)}, "partial", ingest.Some(1.0)},
		{[]*ingest.Instance{made("PARTIAL", "", 1), made("COMPLETE", "UNVERIFIED", 5), made("COMPLETE", "", 3)}, "complete", ingest.Some(3.0)},
		{[]*ingest.Instance{made("COMPLETE", "VERIFIED", 9), made("COMPLETE", "", 2)}, "verified", ingest.Some(9.0)},
		{[]*ingest.Instance{made("COMPLETE", "", -2)}, "complete", ingest.Optional[float64]{}},
	} {
		s.Reports = c.reports
		if state, hours := reportOf(s); state != c.state || hours != c.hours {
			t.Errorf("%d reports: %s %v, want %s %v", len(c.reports), state, hours, c.state, c.hours)
		}
	}
}

// TestItemsCounted: what could not be judged counts on neither side, and what is
// preferred only does not count at all.
func TestItemsCounted(t *testing.T) {
	var items []*analyse.ItemResult
	for _, status := range []analyse.ItemStatus{analyse.Met, analyse.Met, analyse.Partial, analyse.Missing, analyse.NotAssessable, analyse.NotApplicable} {
		items = append(items, &analyse.ItemResult{Required: true, Status: status}, &analyse.ItemResult{Status: status})
	}
	if needed, met := countItems(items, ""); needed != 4 || met != 2 {
		t.Errorf("%d needed, %d met", needed, met)
	}
}

// TestUnusedProtocol wants a finding for a protocol that applies to nothing only
// where it was asked for by name.
func TestUnusedProtocol(t *testing.T) {
	p, err := protocol.Load("newborn-umbilical-line")
	if err != nil {
		t.Fatal(err)
	}
	archive := &ingest.Archive{Instances: []*ingest.Instance{calibrated("S", "1.1", "IM1", noon)}}
	for _, named := range []bool{true, false} {
		result, err := Run(context.Background(), archive, Options{Protocols: []*protocol.Protocol{p}, ProtocolsNamed: named})
		if err != nil {
			t.Fatal(err)
		}
		found := slices.ContainsFunc(result.Findings, func(f analyse.Finding) bool { return f.ID == checks.ProtocolUnused.ID })
		if found != named || len(result.Protocols) != 1 || result.Protocols[0].Applied != 0 {
			t.Errorf("named %t: findings %v, protocols %+v", named, result.Findings, result.Protocols)
		}
	}
}
