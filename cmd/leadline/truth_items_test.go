package main

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"leadline/analyse"
	"leadline/analyse/audit"
	"leadline/cmd/leadline/internal/demo"
	"leadline/ingest"
)

// itemProtocols are those that truth-items.csv speaks of, one for each kind of study.
var itemProtocols = []string{"newborn-heart-function", "newborn-lung-6-zones", "newborn-head", "newborn-vessels"}

// auditItems audits an archive of the demo by these protocols, and with its study
// table where asked.
func auditItems(t *testing.T, dir string, withLabels bool) *analyse.Result {
	t.Helper()
	protocols, err := loadProtocols(itemProtocols, nil)
	if err != nil {
		t.Fatal(err)
	}
	opts := audit.Options{Protocols: protocols}
	if withLabels {
		if opts.Labels, err = ingest.ReadLabels(dir + "/labels.csv"); err != nil {
			t.Fatal(err)
		}
	}
	archive, err := ingest.Load(context.Background(), []string{dir}, ingest.Options{})
	if err != nil {
		t.Fatal(err)
	}
	result, err := audit.Run(context.Background(), archive, opts)
	if err != nil {
		t.Fatal(err)
	}
	return result
}

// holdToItems wants the status of every item of every study to be that of
// truth-items.csv, and no item to be there that the table does not name. The table
// is written from what was drawn, without an audit. It returns how often each status
// was wanted.
func holdToItems(t *testing.T, dir string, withLabels bool) map[string]int {
	t.Helper()
	rows := table(t, dir+"/truth-items.csv")
	if got := strings.Join(rows[0], ","); got != "study_uid,protocol,item,status,status_with_labels" {
		t.Fatalf("truth-items.csv has the header %s", got)
	}
	column := 3
	if withLabels {
		column = 4
	}
	var want, got []string
	statuses := map[string]int{}
	for _, r := range rows[1:] {
		want = append(want, fmt.Sprintf("study %s, %s, item %s: %s", r[0], r[1], r[2], r[column]))
		statuses[r[column]]++
	}
	for _, s := range auditItems(t, dir, withLabels).Studies {
		for _, i := range s.Items {
			got = append(got, fmt.Sprintf("study %s, %s, item %s: %s", s.UID, i.Protocol, i.Item, i.Status))
		}
	}
	missed, invented := compareBags(t, "item", got, want)
	t.Logf("%s: %d items, %d missed, %d invented, wanted %v", dir, len(want), missed, invented, statuses)
	return statuses
}

// TestItemsOfDemo holds every item of every study of the committed archive, by the
// files alone and with the study table.
func TestItemsOfDemo(t *testing.T) {
	statuses := holdToItems(t, demoDir, false)
	for _, s := range []analyse.ItemStatus{analyse.Met, analyse.Partial, analyse.Missing, analyse.NotAssessable, analyse.NotApplicable} {
		if statuses[string(s)] == 0 {
			t.Errorf("no item is wanted to be %s", s)
		}
	}
	if with := holdToItems(t, demoDir, true); with["not-assessable"] >= statuses["not-assessable"] {
		t.Errorf("with labels %d items are not assessable, without %d", with["not-assessable"], statuses["not-assessable"])
	}
}

// TestItemsOfMonths does so for months that are drawn: short ones of several seeds,
// and one in which every defect comes up.
func TestItemsOfMonths(t *testing.T) {
	if testing.Short() {
		t.Skip("draws months")
	}
	for _, o := range []demo.Options{{Studies: 40, Seed: 1}, {Studies: 40, Seed: 2}, {Studies: 40, Seed: 77}, {Studies: 3 * demo.DefectKinds(), Seed: 5}} {
		dir := t.TempDir()
		if _, err := demo.Write(context.Background(), dir, o); err != nil {
			t.Fatal(err)
		}
		for _, withLabels := range []bool{false, true} {
			if statuses := holdToItems(t, dir, withLabels); len(statuses) < 4 {
				t.Errorf("%+v: only the statuses %v", o, statuses)
			}
		}
	}
}

// TestTruthOfLabels gives the study table too, and wants what it adds.
func TestTruthOfLabels(t *testing.T) {
	result := auditDemoWith(t, demoDir, func(_ *ingest.Archive, o *audit.Options) (err error) {
		o.Labels, err = ingest.ReadLabels(demoDir + "/labels.csv")
		return err
	})
	holdToTruth(t, result, "truth.csv", "truth-labels.csv")
	views := map[analyse.ViewSource]int{}
	for _, s := range result.Studies {
		for _, img := range s.Images {
			views[img.ViewSource]++
		}
	}
	for source, n := range map[analyse.ViewSource]int{analyse.ViewOfLabel: 4, analyse.ViewOfAnnotation: 1, analyse.ViewOfReport: 1, "": 0} {
		if views[source] != n {
			t.Errorf("%d views from %q, drawn were %d", views[source], source, n)
		}
	}
}
