package workbook

import (
	"archive/zip"
	"bytes"
	"context"
	"fmt"
	"io"
	"regexp"
	"strings"
	"testing"

	"leadline/export"
)

// TestPageBreaks: a section that has room on a paper page is not torn apart; one longer
// than half a page may be, but not after its first lines.
func TestPageBreaks(t *testing.T) {
	section := func(lines int) export.Section {
		s := export.Section{Title: "Section", Columns: []export.Column{{Heading: "Name"}, {Heading: "Meaning"}}}
		for range lines {
			s.Lines = append(s.Lines, export.Line{Cells: []export.Cell{{Kind: export.Text, Text: "a"}, {Kind: export.Text, Text: "b"}}})
		}
		return s
	}
	for _, c := range []struct {
		name   string
		lines  []int
		breaks string // rows above which a page begins
	}{
		{"all on one page", []int{8, 8}, ""},
		{"the third has no room", []int{10, 10, 10}, "26"},
		{"longer than half a page, with room for half", []int{5, 40}, ""},
		{"longer than half a page, without", []int{20, 40}, "23"},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := &export.Book{Overview: []export.Section{}, Method: []export.Section{section(1)}}
			for _, n := range c.lines {
				b.Overview = append(b.Overview, section(n))
			}
			if got := breaksOf(t, b); got != c.breaks {
				t.Errorf("pages begin at rows %q, want %q", got, c.breaks)
			}
		})
	}
}

var rowBreak = regexp.MustCompile(`<brk id="(\d+)"`)

// breaksOf lists the rows of the overview above which a page begins.
func breaksOf(t *testing.T, b *export.Book) string {
	t.Helper()
	var out bytes.Buffer
	if err := write(context.Background(), &out, t.TempDir(), b, sheetRows); err != nil {
		t.Fatal(err)
	}
	archive, err := zip.NewReader(bytes.NewReader(out.Bytes()), int64(out.Len()))
	if err != nil {
		t.Fatal(err)
	}
	part, err := archive.Open(partOfSheet(0))
	if err != nil {
		t.Fatal(err)
	}
	xml, err := io.ReadAll(part)
	if err != nil {
		t.Fatal(err)
	}
	var rows []string
	for _, m := range rowBreak.FindAllStringSubmatch(string(xml), -1) {
		var above int
		fmt.Sscan(m[1], &above)
		rows = append(rows, fmt.Sprint(above+1))
	}
	return strings.Join(rows, " ")
}
