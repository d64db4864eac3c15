package workbook

import (
	"archive/zip"
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"sort"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/xuri/excelize/v2"

	"leadline/export"
	"leadline/export/deid"
	"leadline/export/internal/sample"
)

func book(identity deid.Identity) *export.Book {
	return export.NewBook(sample.Result(), export.Options{Identity: identity, Key: []byte("k"), Version: "dev"})
}

// opened writes a book with at most rows rows a sheet and opens it again.
func opened(t *testing.T, b *export.Book, rows int) (*excelize.File, []byte) {
	t.Helper()
	var out bytes.Buffer
	if err := write(context.Background(), &out, t.TempDir(), b, rows); err != nil {
		t.Fatal(err)
	}
	f, err := excelize.OpenReader(bytes.NewReader(out.Bytes()))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.Close() })
	return f, out.Bytes()
}

func TestSheetOrder(t *testing.T) {
	f, raw := opened(t, book(deid.Study), sheetRows)
	want := "Overview|The month|Actions|Studies|Completeness|Measurements|Findings|Indices|Timing|Images|Regions|Rulers|Clocks|Agreement|Rates|Differences|Charts|Files|Codebook|How it was computed"
	if got := strings.Join(f.GetSheetList(), "|"); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	archive, err := zip.NewReader(bytes.NewReader(raw), int64(len(raw)))
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, part := range archive.File {
		names = append(names, part.Name)
	}
	if !sort.StringsAreSorted(names) {
		t.Errorf("parts are not sorted: %v", names)
	}
}

// TestNextSheet: rows beyond what a sheet holds go on in the next one, none is
// lost, and the overview says so.
func TestNextSheet(t *testing.T) {
	b := book(deid.Study)
	f, _ := opened(t, b, 4) // three rows under the headings
	for _, table := range b.Tables {
		found := 0
		for n := 1; n <= (table.Len+2)/3; n++ {
			rows, err := f.GetRows(sheetName(table, n))
			if err != nil {
				t.Fatalf("%s: %v", table.Name, err)
			}
			if len(rows) > 4 {
				t.Errorf("%s: %d rows on a sheet that holds 4", sheetName(table, n), len(rows))
			}
			found += len(rows) - 1
		}
		if found != table.Len {
			t.Errorf("%s: %d rows in the sheets, %d in the table", table.Name, found, table.Len)
		}
	}
	rows, _ := f.GetRows(overviewSheet)
	said := false
	for _, r := range rows {
		said = said || strings.Contains(strings.Join(r, " "), `Continued up to the sheet "Files (3)"`)
	}
	if !said {
		t.Error("the overview does not say that the files go on")
	}
}

func TestCut(t *testing.T) {
	for _, c := range []struct {
		name, in string
		whole    bool
	}{
		{"as long as fits", strings.Repeat("a", cellUnits), true},
		{"two bytes each", strings.Repeat("ü", cellUnits), true},
		{"one too long", strings.Repeat("a", cellUnits+1), false},
		{"pairs", strings.Repeat("𝄞", cellUnits), false},
		{"pairs, shifted by one", "a" + strings.Repeat("𝄞", cellUnits), false},
	} {
		got := cut(c.in)
		if n := len(utf16.Encode([]rune(got))); n > cellUnits {
			t.Errorf("%s: %d units", c.name, n)
		}
		if (got == c.in) != c.whole || strings.HasSuffix(got, cutMark) == c.whole {
			t.Errorf("%s: whole %v, ends %q", c.name, got == c.in, got[len(got)-30:])
		}
		if strings.ContainsRune(got, '\uFFFD') {
			t.Errorf("%s: half a character", c.name)
		}
	}
}

// TestTypes: dates are dates, numbers numbers with all their digits, text text.
func TestTypes(t *testing.T) {
	f, _ := opened(t, book(deid.Study), sheetRows)
	at := func(sheet, heading string, row int) string {
		rows, err := f.GetRows(sheet)
		if err != nil {
			t.Fatal(err)
		}
		for i, h := range rows[0] {
			if h == heading {
				return cellName(i+1, row)
			}
		}
		t.Fatalf("%s has no column %q", sheet, heading)
		return ""
	}
	for _, c := range []struct {
		sheet, heading string
		row            int
		shown, raw     string
	}{
		{"Studies", "Study date", 3, "2026-03-02", "46083"}, // days since 1899-12-30
		{"Studies", "Study time", 3, "09:30:15", "0.396006944444444"},
		{"Studies", "First image", 3, "2026-03-02 09:31:02", "46083.3965509259"},
		{"Studies", "Completeness (%)", 3, "33%", "0.333333333333333"},
		{"Studies", "Complete", 3, "no", "no"},
		{"Measurements", "Rebuilt value", 2, "15.23", "15.234567890123"},
		{"Measurements", "U (k = 2)", 2, "0.14", "0.1424"},
		{"Measurements", "Reported value", 2, "15.20", "15.2"},
		{"Measurements", "Label", 3, `=HYPERLINK("http://example.org")`, `=HYPERLINK("http://example.org")`},
		{"Regions", "Delta x (units x per pixel)", 2, "0.012346", "0.0123456789"},
	} {
		cell := at(c.sheet, c.heading, c.row)
		shown, _ := f.GetCellValue(c.sheet, cell)
		raw, _ := f.GetCellValue(c.sheet, cell, excelize.Options{RawCellValue: true})
		if shown != c.shown || !strings.HasPrefix(raw, c.raw) {
			t.Errorf("%s, %s: shows %q and holds %q, want %q and %q", c.sheet, c.heading, shown, raw, c.shown, c.raw)
		}
		if formula, _ := f.GetCellFormula(c.sheet, cell); formula != "" {
			t.Errorf("%s, %s is a formula", c.sheet, c.heading)
		}
	}
}

// Every sheet of a workbook with patient data says so, in a cell and on paper.
func TestFullSaysSo(t *testing.T) {
	for _, identity := range deid.Identities {
		f, _ := opened(t, book(identity), sheetRows)
		for _, sheet := range f.GetSheetList() {
			rows, _ := f.GetRows(sheet)
			said := false
			for _, r := range rows[:2] {
				said = said || len(r) > 0 && r[0] == bannerText
			}
			paper, err := f.GetHeaderFooter(sheet)
			if err != nil || paper == nil {
				t.Fatalf("%s: header and footer: %v", sheet, err)
			}
			full := identity == deid.Full
			if said != full || strings.Contains(paper.OddHeader, "CONTAINS PATIENT DATA") != full {
				t.Errorf("identity %s, sheet %s: in a cell %v, on paper %q", identity, sheet, said, paper.OddHeader)
			}
			if !strings.Contains(paper.OddFooter, "not for diagnosis") {
				t.Errorf("%s: no caution at the foot", sheet)
			}
		}
	}
}

func TestCancelledLeavesNothing(t *testing.T) {
	dir := t.TempDir()
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if err := Write(ctx, filepath.Join(dir, "a.xlsx"), book(deid.Study), false); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v, want the context's error", err)
	}
	if entries, _ := os.ReadDir(dir); len(entries) != 0 {
		t.Errorf("left over: %v", entries)
	}
}

func TestLinesOf(t *testing.T) {
	for _, c := range []struct {
		text  string
		width float64
		want  int
	}{{"", 10, 1}, {"short", 10, 1}, {strings.Repeat("word ", 10), 10, 5}, {"word unbroken-by-any-blank word", 10, 4}, {"a\nb", 10, 2}} {
		if got := linesOf(c.text, c.width); got != c.want {
			t.Errorf("%q in %v: %d lines, want %d", c.text, c.width, got, c.want)
		}
	}
}
