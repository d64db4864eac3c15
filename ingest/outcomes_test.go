package ingest

import (
	"bytes"
	"context"
	"encoding/csv"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"sort"
	"testing"
)

// sharedData holds real files with licences of their own, which are never committed,
// and a copy of testdata/hostile.
const sharedData = "../../shared/data"

// judgement is a row of testdata/outcomes.csv: what the ledger must say of a file
// read by itself, as a person judged it with the file before them, and why.
type judgement struct{ folder, file, outcome, reason string }

func judgements(t *testing.T) map[string][]judgement {
	t.Helper()
	file, err := os.Open("testdata/outcomes.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	byFolder := map[string][]judgement{}
	for _, r := range rows[1:] {
		if r[4] == "" {
			t.Errorf("%s/%s: no word on why", r[0], r[1])
		}
		byFolder[r[0]] = append(byFolder[r[0]], judgement{r[0], r[1], r[2], r[3]})
	}
	return byFolder
}

// TestOutcomes reads every odd, bad and hostile file by itself and wants the outcome
// and the reason that were judged right by hand.
func TestOutcomes(t *testing.T) {
	byFolder := judgements(t)
	for folder, dir := range map[string]string{
		"hostile":            "../testdata/hostile",
		"real/odd":           sharedData + "/real/odd",
		"real/generated-bad": sharedData + "/real/generated-bad",
		"real/us":            sharedData + "/real/us",
	} {
		t.Run(folder, func(t *testing.T) {
			entries, err := os.ReadDir(dir)
			if errors.Is(err, fs.ErrNotExist) && folder != "hostile" {
				t.Skip("skipped: the shared folder of real files is not here")
			}
			if err != nil {
				t.Fatal(err)
			}
			wantRows(t, entries, byFolder[folder])
			for _, j := range byFolder[folder] {
				wantOutcome(t, filepath.Join(dir, j.file), j)
			}
		})
	}
}

// wantRows wants one row for every file and no other.
func wantRows(t *testing.T, entries []os.DirEntry, rows []judgement) {
	t.Helper()
	if len(rows) == 0 {
		t.Error("no judgements")
	}
	judged := map[string]int{}
	for _, j := range rows {
		judged[j.file]++
	}
	for _, e := range entries {
		judged[e.Name()]--
	}
	var names []string
	for name, n := range judged {
		if n != 0 {
			names = append(names, name)
		}
	}
	sort.Strings(names)
	for _, name := range names {
		t.Errorf("%s: files minus rows in testdata/outcomes.csv is %d", name, -judged[name])
	}
}

func wantOutcome(t *testing.T, path string, want judgement) {
	t.Helper()
	archive, err := Load(context.Background(), []string{path}, Options{Workers: 1})
	if err != nil {
		t.Errorf("%s: %v", path, err)
		return
	}
	if len(archive.Ledger) != 1 {
		t.Errorf("%s: %d rows in the ledger", path, len(archive.Ledger))
		return
	}
	e := archive.Ledger[0]
	if string(e.Outcome) != want.outcome || e.Reason != want.reason {
		t.Errorf("%s\n got %s | %s\nwant %s | %s", want.file, e.Outcome, e.Reason, want.outcome, want.reason)
	}
}

// TestHostileSeeds wants every hostile file of the shared folder among the seeds.
func TestHostileSeeds(t *testing.T) {
	names, err := filepath.Glob(sharedData + "/hostile/*")
	if err != nil {
		t.Fatal(err)
	}
	if len(names) == 0 {
		t.Skip("skipped: the shared folder of hostile files is not here")
	}
	for _, name := range names {
		shared, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		seed, err := os.ReadFile(filepath.Join("../testdata/hostile", filepath.Base(name)))
		if err != nil || !bytes.Equal(shared, seed) {
			t.Errorf("%s is not in testdata/hostile as it is (%v)", filepath.Base(name), err)
		}
	}
}
