package main

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"leadline/analyse"
	"leadline/analyse/audit"
	"leadline/ingest"
	"leadline/ingest/protocol"
)

const demoDir = "../../testdata/demo"

// auditDemo audits the committed demo archive as the README's first command does,
// and with its caliper table where asked.
func auditDemo(t *testing.T, dir string, withTable bool) *analyse.Result {
	t.Helper()
	return auditDemoWith(t, dir, func(_ *ingest.Archive, o *audit.Options) (err error) {
		if withTable {
			o.Calipers, err = ingest.ReadCalipers(dir + "/calipers.csv")
		}
		return err
	})
}

// auditDemoWith lets more be given to the audit.
func auditDemoWith(t *testing.T, dir string, more func(*ingest.Archive, *audit.Options) error) *analyse.Result {
	t.Helper()
	archive, err := ingest.Load(context.Background(), []string{dir}, ingest.Options{Pictures: true})
	if err != nil {
		t.Fatal(err)
	}
	opts := audit.Options{}
	for _, name := range protocol.Defaults() {
		p, err := protocol.Load(name)
		if err != nil {
			t.Fatal(err)
		}
		opts.Protocols = append(opts.Protocols, p)
	}
	if opts.Acoustic, err = loadLimits(""); err != nil {
		t.Fatal(err)
	}
	if err := more(archive, &opts); err != nil {
		t.Fatal(err)
	}
	result, err := audit.Run(context.Background(), archive, opts)
	if err != nil {
		t.Fatal(err)
	}
	return result
}

// TestTruth audits the demo archive and wants every planted defect, every shortfall
// and every verdict of truth.csv found, and no other.
func TestTruth(t *testing.T) {
	holdToTruth(t, auditDemo(t, demoDir, false), "truth.csv")
}

// TestTruthOfTable gives the caliper table too, and wants what it adds.
func TestTruthOfTable(t *testing.T) {
	holdToTruth(t, auditDemo(t, demoDir, true), "truth.csv", "truth-calipers.csv")
}

// TestTruthOfPictures looks at the pictures too, and wants what their rulers add.
func TestTruthOfPictures(t *testing.T) {
	result := auditDemoWith(t, demoDir, func(archive *ingest.Archive, o *audit.Options) error {
		o.FirstFrame = archive.FirstFrame
		return nil
	})
	holdToTruth(t, result, "truth.csv", "truth-pixels.csv")
}

func holdToTruth(t *testing.T, result *analyse.Result, tables ...string) {
	t.Helper()
	var wantFindings, wantVerdicts []string
	for _, table := range tables {
		findings, verdicts := readTruth(t, demoDir+"/"+table)
		wantFindings, wantVerdicts = append(wantFindings, findings...), append(wantVerdicts, verdicts...)
	}
	if len(wantFindings) < 25 || len(wantVerdicts) < 10 {
		t.Fatalf("the truth lists %d findings and %d verdicts: too few to test with", len(wantFindings), len(wantVerdicts))
	}
	gotFindings, gotVerdicts := reported(result)
	missed, invented := compareBags(t, "finding", gotFindings, wantFindings)
	t.Logf("findings: %d planted, %d found, %d invented", len(wantFindings), len(wantFindings)-missed, invented)
	missed, invented = compareBags(t, "verdict", gotVerdicts, wantVerdicts)
	t.Logf("verdicts: %d planted, %d found, %d invented", len(wantVerdicts), len(wantVerdicts)-missed, invented)
}

// readTruth reads the planted findings and verdicts, each as one comparable line.
func readTruth(t *testing.T, path string) (findings, verdicts []string) {
	t.Helper()
	rows := table(t, path)
	if got := strings.Join(rows[0], ","); got != "study_uid,sop_uid,path,finding,verdict,item,what" {
		t.Fatalf("truth.csv has the header %s", got)
	}
	for _, r := range rows[1:] {
		study, sop, file, finding, verdict, item := r[0], r[1], r[2], r[3], r[4], r[5]
		switch {
		case aboutFiles[finding]:
			findings = append(findings, finding+" in file "+file)
		case strings.HasPrefix(finding, "item-"):
			findings = append(findings, finding+" study "+study+" item "+item)
		case finding != "":
			findings = append(findings, finding+" study "+study+" image "+sop)
		}
		if verdict != "" {
			verdicts = append(verdicts, verdict+" study "+study+" label "+item)
		}
	}
	return findings, verdicts
}

// aboutFiles are the findings that are told apart by the path of a file.
var aboutFiles = map[string]bool{
	"file-unreadable": true, "instance-conflict": true, "instance-duplicate": true,
	"directory-file-missing": true, "directory-file-unlisted": true, "directory-record-contradicts": true,
}

// itemOf is the item that a finding names by its title.
func itemOf(result *analyse.Result, f analyse.Finding) string {
	for _, s := range result.Studies {
		for _, item := range s.Items {
			if s.UID == f.StudyUID && strings.HasPrefix(f.Message, item.Title+" ("+item.ProtocolTitle+"): ") {
				return item.Item
			}
		}
	}
	return "that no study has"
}

// reported writes what the audit found in the same lines.
func reported(result *analyse.Result) (findings, verdicts []string) {
	for _, f := range result.Findings {
		switch {
		case aboutFiles[f.ID]:
			findings = append(findings, f.ID+" in file "+strings.TrimPrefix(f.Path, demoDir+"/"))
		case strings.HasPrefix(f.ID, "item-"):
			findings = append(findings, f.ID+" study "+f.StudyUID+" item "+itemOf(result, f))
		default:
			findings = append(findings, f.ID+" study "+f.StudyUID+" image "+f.SOPUID)
		}
	}
	for _, s := range result.Studies {
		for _, m := range s.Measurements {
			if m.Verdict != analyse.VerdictAgrees {
				verdicts = append(verdicts, fmt.Sprintf("%s study %s label %s", m.Verdict, s.UID, m.Label))
			}
		}
	}
	return findings, verdicts
}

// compareBags reports what one list has more often than the other.
func compareBags(t *testing.T, what string, got, want []string) (missed, invented int) {
	t.Helper()
	count := map[string]int{}
	for _, line := range want {
		count[line]++
	}
	for _, line := range got {
		count[line]--
	}
	lines := make([]string, 0, len(count))
	for line := range count {
		lines = append(lines, line)
	}
	slices.Sort(lines)
	for _, line := range lines {
		switch n := count[line]; {
		case n > 0:
			missed += n
			t.Errorf("planted %s not found (%d): %s", what, n, line)
		case n < 0:
			invented -= n
			t.Errorf("%s not planted (%d): %s", what, -n, line)
		}
	}
	return missed, invented
}
