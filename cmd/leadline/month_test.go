package main

import (
	"context"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"leadline/analyse"
	"leadline/cmd/leadline/internal/demo"
)

// TestMonths audits a demo of two months as a quality team does: the first month, then
// the second with the first one's tables, and wants the counts to be those of the truth
// and to add up to those of both months audited at once.
func TestMonths(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and hardly anything in it at once")
	}
	dir := t.TempDir()
	archive := filepath.Join(dir, "archive")
	if _, err := demo.Write(context.Background(), archive, demo.Options{Studies: 24, Months: 2, Seed: 3}); err != nil {
		t.Fatal(err)
	}
	lacking := map[string]bool{}
	for _, r := range table(t, filepath.Join(archive, "truth.csv"))[1:] {
		if strings.HasPrefix(r[3], "item-") {
			lacking[r[0]] = true
		}
	}
	run := func(name string, flags ...string) [][]string {
		args := append([]string{"audit", archive, "-o", filepath.Join(dir, name+".xlsx"), "--tables", filepath.Join(dir, name), "--quiet"}, flags...)
		mustRun(t, args...)
		return table(t, filepath.Join(dir, name, "rates.csv"))
	}
	both := run("both")
	first := run("first", "--until", "2026-08-31")
	second := run("second", "--since", "2026-09-01", "--compare", filepath.Join(dir, "first"))
	whole := cell(t, both, "complete-studies", "protocol", "")
	if complete, of := atoi(t, whole[8]), atoi(t, whole[9]); len(lacking) == 0 || of-complete != len(lacking) {
		t.Errorf("%d of %d complete, and the truth lists %d that are not", complete, of, len(lacking))
	}
	for _, period := range []string{"2026-08", "2026-09"} {
		if a, b := cell(t, both, "complete-studies", "month", period), cell(t, second, "complete-studies", "month", period); strings.Join(a[:16], ",") != strings.Join(b[:16], ",") {
			t.Errorf("%s: %v at once, %v with the earlier audit", period, a, b)
		}
	}
	d := table(t, filepath.Join(dir, "second", "differences.csv"))[1]
	now, before := cell(t, second, "complete-studies", "protocol", ""), cell(t, first, "complete-studies", "protocol", "")
	if d[1] != string(analyse.CompleteStudies) || d[5] != now[8] || d[6] != now[9] || d[7] != before[8] || d[8] != before[9] || d[9] == "" {
		t.Errorf("the difference is of %v, not of %v and %v", d, now, before)
	}
}

// cell is the row of a rate.
func cell(t *testing.T, rates [][]string, rate, by, period string) []string {
	t.Helper()
	for _, r := range rates[1:] {
		if r[1] == rate && r[2] == by && r[7] == period {
			return r
		}
	}
	t.Fatalf("no %s by %s %s", rate, by, period)
	return nil
}

// Bad earlier audits are refused before anything is read, and say what is wanted.
func TestCompareRefused(t *testing.T) {
	good := t.TempDir()
	mustRun(t, "audit", demoDir, "-o", filepath.Join(good, "a.xlsx"), "--tables", filepath.Join(good, "t"), "--quiet")
	studies, err := os.ReadFile(filepath.Join(good, "t", "studies.csv"))
	if err != nil {
		t.Fatal(err)
	}
	items, err := os.ReadFile(filepath.Join(good, "t", "completeness.csv"))
	if err != nil {
		t.Fatal(err)
	}
	none := filepath.Join(good, "none")
	mustRun(t, "audit", demoDir, "-o", filepath.Join(good, "b.xlsx"), "--tables", none, "--identity", "none", "--quiet")
	folder := func(studies, items string) string {
		dir := t.TempDir()
		for name, content := range map[string]string{"studies.csv": studies, "completeness.csv": items} {
			if err := os.WriteFile(filepath.Join(dir, name), []byte(content), 0o600); err != nil {
				t.Fatal(err)
			}
		}
		return dir
	}
	head, _, _ := strings.Cut(string(items), "\n")
	for name, c := range map[string]struct{ dir, want string }{
		"no folder":        {filepath.Join(good, "nowhere"), "studies.csv: expected a file that can be read"},
		"identity none":    {none, "identity study"},
		"another protocol": {folder(string(studies), strings.ReplaceAll(string(items), "newborn-heart-function", "somebody")), "newborn-heart-function"},
		"no column":        {folder(strings.Replace(string(studies), "duration_s", "dur", 1), string(items)), "a column duration_s"},
		"a status":         {folder(string(studies), strings.Replace(string(items), ",met,", ",mett,", 1)), "perhaps met"},
		"a stranger":       {folder(string(studies), head+"\n1.2.3,newborn-heart-function,x,header,true,met,1,1,,\n"), "a study of studies.csv"},
		"a date":           {folder(strings.Replace(string(studies), "2026-09-01", "yesterday", 1), string(items)), "YYYY-MM-DD"},
		"a number":         {folder(strings.Replace(string(studies), ",501,", ",five,", 1), string(items)), "duration_s: expected a number"},
	} {
		var out, said strings.Builder
		status := execute(context.Background(), []string{"audit", demoDir, "-o", filepath.Join(t.TempDir(), "x.xlsx"), "--compare", c.dir}, streams{out: &out, err: &said})
		if status != exitUsage || !strings.Contains(said.String(), c.want) {
			t.Errorf("%s: status %d, %s", name, status, said.String())
		}
	}
}

func atoi(t *testing.T, text string) int {
	t.Helper()
	n, err := strconv.Atoi(text)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// TestMinCell: a month of seven heart studies shows no count of studies below five.
func TestMinCell(t *testing.T) {
	dir := t.TempDir()
	var out, said strings.Builder
	args := []string{"audit", demoDir, "-o", filepath.Join(dir, "a.xlsx"), "--tables", filepath.Join(dir, "t"), "--min-cell", "5", "--json"}
	if status := execute(context.Background(), args, streams{out: &out, err: &said}); status != exitDone {
		t.Fatal(status, said.String())
	}
	for _, want := range []string{`"complete": null`, `"applied": null`, "left out, since a cell counts fewer than 5"} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("the summary lacks %s", want)
		}
	}
	hidden := 0
	for _, r := range table(t, filepath.Join(dir, "t", "rates.csv"))[1:] {
		if r[15] == "true" {
			hidden++
			continue
		}
		for _, n := range []int{atoi(t, r[8]), atoi(t, r[9]), atoi(t, r[9]) - atoi(t, r[8]), atoi(t, r[13])} {
			if n > 0 && n < 5 {
				t.Errorf("%v", r)
			}
		}
	}
	if hidden == 0 {
		t.Error("nothing is left out")
	}
	for _, r := range table(t, filepath.Join(dir, "t", "agreement.csv"))[1:] {
		if atoi(t, r[11]) < 5 {
			t.Errorf("%v", r)
		}
	}
}
