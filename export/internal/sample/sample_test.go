package sample_test

import (
	"bytes"
	"context"
	"encoding/csv"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"leadline/export"
	"leadline/export/csvfile"
	"leadline/export/deid"
	"leadline/export/internal/sample"
	"leadline/export/workbook"
)

// audited and checked make the books of the sample.
func audited(opts export.Options) *export.Book { return export.NewBook(sample.Result(), opts) }
func checked(opts export.Options) *export.Book {
	return export.NewCalibrationBook(sample.Calibration(), opts)
}

// written writes a book of the sample with an identity level into dir.
func written(t *testing.T, dir string, made func(export.Options) *export.Book, identity deid.Identity) (tables, book string) {
	t.Helper()
	b := made(export.Options{Identity: identity, Key: []byte("k"), Version: "dev"})
	tables, book = filepath.Join(dir, "tables"), filepath.Join(dir, "book.xlsx")
	if err := csvfile.WriteDir(context.Background(), tables, b.Tables, false); err != nil {
		t.Fatal(err)
	}
	if err := workbook.Write(context.Background(), book, b, false); err != nil {
		t.Fatal(err)
	}
	return tables, book
}

// texts is everything that a reader of the outputs can see.
func texts(t *testing.T, tables, book string) string {
	t.Helper()
	var all strings.Builder
	files, err := filepath.Glob(tables + "/*.csv")
	if err != nil || len(files) == 0 {
		t.Fatalf("%d tables: %v", len(files), err)
	}
	for _, f := range files {
		data, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		all.Write(data)
	}
	x, err := excelize.OpenFile(book)
	if err != nil {
		t.Fatal(err)
	}
	defer x.Close()
	for _, sheet := range x.GetSheetList() {
		rows, err := x.GetRows(sheet)
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range rows {
			all.WriteString(strings.Join(r, "\n") + "\n")
		}
	}
	return all.String()
}

// TestIdentity: patients and staff stay out unless asked for, what finds a study
// again stays out with none, and full holds them all.
func TestIdentity(t *testing.T) {
	for _, identity := range deid.Identities {
		all := ""
		for _, made := range []func(export.Options) *export.Book{audited, checked} {
			tables, book := written(t, t.TempDir(), made, identity)
			all += texts(t, tables, book)
		}
		for _, group := range []struct {
			words   []string
			allowed bool
		}{
			{sample.Secrets, identity == deid.Full},
			{sample.Staff, identity == deid.Full},
			{sample.Traces, identity != deid.None},
		} {
			seen := 0
			for _, w := range group.words {
				if !strings.Contains(all, w) {
					continue
				}
				if seen++; !group.allowed {
					t.Errorf("identity %s: %q is in the output", identity, w)
				}
			}
			if group.allowed && seen == 0 {
				t.Errorf("identity %s: none of %d words that it keeps is in the output", identity, len(group.words))
			}
		}
	}
}

// TestSameBytes: the same result and key give the same bytes.
func TestSameBytes(t *testing.T) {
	for _, identity := range deid.Identities {
		sameBytes(t, audited, identity)
		sameBytes(t, checked, identity)
	}
}

func sameBytes(t *testing.T, made func(export.Options) *export.Book, identity deid.Identity) {
	t.Helper()
	tablesA, bookA := written(t, t.TempDir(), made, identity)
	tablesB, bookB := written(t, t.TempDir(), made, identity)
	files, _ := filepath.Glob(tablesA + "/*.csv")
	pairs := [][2]string{{bookA, bookB}}
	for _, f := range files {
		pairs = append(pairs, [2]string{f, filepath.Join(tablesB, filepath.Base(f))})
	}
	for _, p := range pairs {
		a, errA := os.ReadFile(p[0])
		b, errB := os.ReadFile(p[1])
		if errA != nil || errB != nil || !bytes.Equal(a, b) {
			t.Errorf("identity %s: two runs write different %s (%v, %v)", identity, filepath.Base(p[0]), errA, errB)
		}
	}
}

// TestNoFormulas: no field of a table begins like a formula unless it is made of numbers,
// and no cell of the workbook holds one.
func TestNoFormulas(t *testing.T) {
	tables, book := written(t, t.TempDir(), audited, deid.Study)
	files, _ := filepath.Glob(tables + "/*.csv")
	guarded := 0
	for _, f := range files {
		data, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		for _, row := range rows {
			for _, field := range row {
				if strings.HasPrefix(field, "'") {
					guarded++
				}
				// Numbers, and coordinates of points below zero, cannot run.
				if strings.Trim(field, "0123456789.,+-e ;") != "" && strings.IndexAny(field, "=+-@\t\r") == 0 {
					t.Errorf("%s: a field begins with %q", filepath.Base(f), field[:1])
				}
			}
		}
	}
	if guarded == 0 {
		t.Error("the sample holds fields like formulas, and none was guarded")
	}
	data, err := os.ReadFile(book)
	if err != nil {
		t.Fatal(err)
	}
	x, err := excelize.OpenReader(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	defer x.Close()
	for _, sheet := range x.GetSheetList() {
		rows, _ := x.GetRows(sheet)
		for r := range rows {
			for c := range rows[r] {
				cell, _ := excelize.CoordinatesToCellName(c+1, r+1)
				if formula, _ := x.GetCellFormula(sheet, cell); formula != "" {
					t.Errorf("%s!%s holds a formula", sheet, cell)
				}
			}
		}
	}
}

// TestOutputRefused: an output that exists is left as it is.
func TestOutputRefused(t *testing.T) {
	dir := t.TempDir()
	_, book := written(t, dir, audited, deid.Study)
	before, _ := os.ReadFile(book)
	b := export.NewBook(sample.Result(), export.Options{Identity: deid.Full, Key: []byte("k"), Version: "dev"})
	if err := workbook.Write(context.Background(), book, b, false); err == nil {
		t.Error("an existing workbook was overwritten without force")
	}
	if after, _ := os.ReadFile(book); !bytes.Equal(before, after) {
		t.Error("a refused workbook was changed")
	}
	if info, err := os.Stat(book); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("mode %v, %v", info.Mode(), err)
	}
}
