package main

import (
	"context"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"leadline/analyse"
	"leadline/analyse/audit"
	"leadline/export"
	"leadline/export/csvfile"
	"leadline/export/deid"
	"leadline/ingest"
)

// TestPermutation gives every file of the demo another name in another folder, by
// chance, and reads them with one worker and with eight: no table says anything else
// than before, apart from where files lie.
func TestPermutation(t *testing.T) {
	want := placeless(t, demoDir, 0)
	if len(want["completeness"]) < 100 || len(want["findings"]) < 50 {
		t.Fatalf("%d tables with too few rows to compare", len(want))
	}
	for seed := range uint64(3) {
		dir := scattered(t, demoDir, seed)
		for _, workers := range []int{1, 8} {
			got := placeless(t, dir, workers)
			for name := range want {
				if !slices.Equal(got[name], want[name]) {
					t.Errorf("seed %d, %d workers: %s differs: %s", seed, workers, name, firstDifference(got[name], want[name]))
				}
			}
		}
	}
}

// scattered copies the files of a tree into a new one under names and folders drawn
// by chance. Media directories name their files by place, so they are left out, and
// so are the tables, which people wrote. Of two objects under one SOP Instance UID
// the first by path is kept, so the edited one is put behind all others.
func scattered(t *testing.T, from string, seed uint64) string {
	t.Helper()
	to, rng, n := t.TempDir(), rand.New(rand.NewPCG(seed, 7)), 0
	err := filepath.WalkDir(from, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || aside(path) {
			return err
		}
		n++
		content, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		folder := filepath.Join(to, fmt.Sprint(rng.IntN(5)), fmt.Sprint(rng.IntN(4)))
		if filepath.Base(path) == "US0002.dcm" {
			folder = filepath.Join(to, "zz")
		}
		if err := os.MkdirAll(folder, 0o755); err != nil {
			return err
		}
		return os.WriteFile(filepath.Join(folder, fmt.Sprintf("%06d-%d", rng.IntN(1e6), n)), content, 0o644)
	})
	if err != nil || n < 200 {
		t.Fatalf("%d files copied: %v", n, err)
	}
	return to
}

func aside(path string) bool {
	return filepath.Base(path) == "DICOMDIR" || filepath.Ext(path) == ".csv"
}

// placeless audits a tree and writes its tables, without the rows about media
// directories and tables and without paths. Rows are sorted where a table lists
// files.
func placeless(t *testing.T, dir string, workers int) map[string][]string {
	t.Helper()
	archive, err := ingest.Load(context.Background(), []string{dir}, ingest.Options{Workers: workers})
	if err != nil {
		t.Fatal(err)
	}
	protocols, err := loadProtocols(itemProtocols, nil)
	if err != nil {
		t.Fatal(err)
	}
	opts := audit.Options{Protocols: protocols}
	if opts.Labels, err = ingest.ReadLabels(demoDir + "/labels.csv"); err != nil {
		t.Fatal(err)
	}
	opts.Labels = slices.DeleteFunc(opts.Labels, func(r ingest.LabelRow) bool { return r.Path != "" })
	if opts.Calipers, err = ingest.ReadCalipers(demoDir + "/calipers.csv"); err != nil {
		t.Fatal(err)
	}
	result, err := audit.Run(context.Background(), archive, opts)
	if err != nil {
		t.Fatal(err)
	}
	tables := written(t, result, export.Options{Identity: deid.Study})
	for name, lines := range written(t, result, export.Options{Identity: deid.None, Key: []byte("one key for all")}) {
		if name != "files" { // its paths are pseudonyms, so that the rows about tables cannot be told
			tables["identity none: "+name] = lines
		}
	}
	return tables
}

// written are the lines of the tables of a result, without paths.
func written(t *testing.T, result *analyse.Result, opts export.Options) map[string][]string {
	t.Helper()
	out := filepath.Join(t.TempDir(), "t")
	if err := csvfile.WriteDir(context.Background(), out, export.NewBook(result, opts).Tables, false); err != nil {
		t.Fatal(err)
	}
	files, err := filepath.Glob(out + "/*.csv")
	if err != nil {
		t.Fatal(err)
	}
	tables := map[string][]string{}
	for _, file := range files {
		name := strings.TrimSuffix(filepath.Base(file), ".csv")
		tables[name] = withoutPaths(table(t, file))
		if name == "files" || name == "findings" {
			slices.Sort(tables[name])
		}
	}
	return tables
}

// withoutPaths makes lines of rows, those about tables and media directories left out.
func withoutPaths(rows [][]string) []string {
	path, finding := slices.Index(rows[0], "path"), slices.Index(rows[0], "finding")
	problem, order := slices.Index(rows[0], "problem"), slices.Index(rows[0], "order")
	var lines []string
	for _, row := range rows {
		if path >= 0 && aside(row[path]) || finding >= 0 && strings.HasPrefix(row[finding], "directory-") ||
			problem >= 0 && strings.HasPrefix(row[problem], "A media directory ") {
			continue
		}
		row = slices.Clone(row)
		if path >= 0 {
			row[path] = ""
		}
		if problem >= 0 { // the action list names files in words, and counts rows that are left out here
			row[problem], _, _ = strings.Cut(row[problem], " Files: ")
			row[order] = strconv.Itoa(len(lines))
		}
		lines = append(lines, strings.Join(row, ","))
	}
	return lines
}

// firstDifference tells the first line in which two lists differ.
func firstDifference(got, want []string) string {
	for i := range min(len(got), len(want)) {
		if got[i] != want[i] {
			return fmt.Sprintf("line %d\ngot  %s\nwant %s", i+1, got[i], want[i])
		}
	}
	return fmt.Sprintf("%d and %d lines", len(got), len(want))
}
