package main

import (
	"context"
	"maps"
	"slices"
	"testing"

	"leadline/analyse"
	"leadline/analyse/audit"
	"leadline/ingest"
	"leadline/ingest/protocol"
)

// What the demo draws into a clean study of each kind: its first study of the
// kind. Items that are not named here are missing or, where their condition does
// not hold, not applicable.
var drawn = map[string]struct {
	bodyPart string
	status   map[string]analyse.ItemStatus
}{
	"newborn-head": {"HEAD", map[string]analyse.ItemStatus{
		"study-date": analyse.Met, "device-serial": analyse.Met, "report-complete": analyse.Met,
		"coronal-foramina": analyse.Met, "coronal-sweep": analyse.Met, "sagittal-midline": analyse.Met,
		"ventricular-index-left": analyse.Met, "ventricular-index-right": analyse.Met,
		"anterior-horn-width-left": analyse.Met, // drawn on one side
		"cerebellar-diameter":      analyse.NotApplicable, "anterior-cerebral-artery-strip": analyse.Met,
		"anterior-cerebral-artery-resistance": analyse.Met,
	}},
	"newborn-lung-6-zones": {"LUNG", map[string]analyse.ItemStatus{
		"study-date": analyse.Met, "device-serial": analyse.Met, "report-complete": analyse.Met, "transducer": analyse.Met,
		// The clips of the demo are half a second long, to keep it small.
		"upper-anterior-right": analyse.Partial, "lower-anterior-right": analyse.Partial, "lateral-right": analyse.Partial,
		"upper-anterior-left": analyse.Partial, "lower-anterior-left": analyse.Partial, "lateral-left": analyse.Partial,
	}},
	"newborn-lung-10-zones": {"LUNG", map[string]analyse.ItemStatus{
		"study-date": analyse.Met, "device-serial": analyse.Met, "report-complete": analyse.Met, "transducer": analyse.Met,
		"upper-anterior-right": analyse.Partial, "lower-anterior-right": analyse.Partial, "lateral-right": analyse.Partial,
		"upper-anterior-left": analyse.Partial, "lower-anterior-left": analyse.Partial, "lateral-left": analyse.Partial,
	}},
	"newborn-lung-12-zones": {"LUNG", map[string]analyse.ItemStatus{
		"study-date": analyse.Met, "device-serial": analyse.Met, "report-complete": analyse.Met, "transducer": analyse.Met,
		"upper-anterior-right": analyse.Partial, "lower-anterior-right": analyse.Partial,
		"upper-anterior-left": analyse.Partial, "lower-anterior-left": analyse.Partial,
	}},
	"newborn-vessels": {"ABDOMEN", map[string]analyse.ItemStatus{
		"study-date": analyse.Met, "study-time": analyse.Met, "device-serial": analyse.Met, "report-complete": analyse.Met,
		"sma-strip": analyse.Met, "sma-velocities": analyse.Met, "sma-end-diastolic": analyse.Met, "sma-resistance": analyse.Met,
		"celiac-velocities": analyse.NotApplicable, "celiac-end-diastolic": analyse.NotApplicable, "celiac-resistance": analyse.NotApplicable,
		"renal-resistance-right": analyse.NotApplicable, "renal-resistance-left": analyse.NotApplicable,
	}},
	"newborn-heart-function":      {"HEART", nil}, // held to truth.csv
	"newborn-heart-comprehensive": {"HEART", nil},
	"newborn-umbilical-line":      {"", nil}, // the demo has none
}

// TestBuiltinsOnDemo holds the demo archive against every built-in protocol: each
// applies to the studies of its kind and no others, and its items stand as the demo
// was drawn.
func TestBuiltinsOnDemo(t *testing.T) {
	archive, err := ingest.Load(context.Background(), []string{demoDir}, ingest.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if names := slices.Sorted(maps.Keys(drawn)); !slices.Equal(names, protocol.Builtins()) {
		t.Fatalf("built in are %v, known here %v", protocol.Builtins(), names)
	}
	all, err := loadProtocols(protocol.Builtins(), nil)
	if err != nil {
		t.Fatal(err)
	}
	result, err := audit.Run(context.Background(), archive, audit.Options{Protocols: all})
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range all {
		want, first := drawn[p.Name], true
		for _, s := range result.Studies {
			if len(s.Images) == 0 {
				continue
			}
			applies := slices.Contains(s.Totals.Protocols, p.Name)
			if of := s.Images[0].Series.BodyPart; applies != (of == want.bodyPart) {
				t.Errorf("%s applies to study %s of %s: %t", p.Name, s.UID, of, applies)
			}
			if applies && first && want.status != nil {
				first = false
				wantStatuses(t, p.Name, s, want.status)
			}
		}
		if want.status != nil && first {
			t.Errorf("%s applies to no study", p.Name)
		}
	}
}

func wantStatuses(t *testing.T, name string, s *analyse.Study, want map[string]analyse.ItemStatus) {
	t.Helper()
	seen := 0
	for _, item := range s.Items {
		if item.Protocol != name {
			continue
		}
		status, named := want[item.Item]
		if !named {
			status = analyse.Missing
		} else {
			seen++
		}
		if item.Status != status {
			t.Errorf("%s, item %s is %s (%s), wanted %s", name, item.Item, item.Status, item.Note, status)
		}
	}
	if seen != len(want) {
		t.Errorf("%s: %d of %d items are there", name, seen, len(want))
	}
}
