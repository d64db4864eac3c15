package ingest

import (
	"bufio"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"
	"unicode/utf8"

	"leadline/ingest/terms"
)

// Limits of a caliper table.
const (
	maxTableBytes  = 64 << 20
	maxTableRows   = 1_000_000
	maxTableErrors = 20
)

// caliperColumns are the words of the header row. Needed ones must be there, with
// sop_uid or path or both.
var caliperColumns = []struct {
	name   string
	needed bool
}{
	{"sop_uid", false}, {"path", false}, {"frame", false}, {"label", true}, {"geometry", true},
	{"points", true}, {"value", false}, {"unit", false}, {"observer", false},
}

// TableError is one fault of a caliper table: where it is and what was expected
// there. It never holds what was found: a label may name a patient.
type TableError struct {
	File string
	// Line is the line in the file, from 1; 0 where the file as a whole is meant.
	Line int
	// Column is the column's word, or "column N" where it has none.
	Column   string
	Expected string
	cause    error
}

func (e *TableError) Error() string {
	var b strings.Builder
	b.WriteString(e.File)
	if e.Line > 0 {
		fmt.Fprintf(&b, ": row %d", e.Line)
	}
	if e.Column != "" {
		fmt.Fprintf(&b, ", %s", e.Column)
	}
	fmt.Fprintf(&b, ": expected %s", e.Expected)
	return b.String()
}

// Unwrap is what the system said, where it did.
func (e *TableError) Unwrap() error { return e.cause }

// ReadCalipers reads a caliper table: comma-separated values in UTF-8 with a header
// row (sop_uid or path, frame, label, geometry, points, value, unit, observer, in
// any order; frame, value, unit and observer may be missing).
//
// Points are x,y pairs in continuous image coordinates, separated by blanks or
// semicolons. Frame is one number from 1, or two for the geometry frames. A row
// number is the line in the file. On any fault no rows are returned, and the
// error joins a TableError for each, at most 20 and then how many more.
func ReadCalipers(path string) ([]CaliperRow, error) {
	f, err := openNow(path)
	if err == nil {
		defer f.Close()
		var info os.FileInfo
		if info, err = f.Stat(); err == nil && !info.Mode().IsRegular() {
			err = errors.New("not a regular file")
		}
	}
	if err != nil {
		return nil, &TableError{File: path, Expected: "a file that can be read", cause: err}
	}
	return readCalipers(path, f)
}

// readCalipers reads the table from r; name is what errors and rows call it.
func readCalipers(name string, r io.Reader) ([]CaliperRow, error) {
	limited := &io.LimitedReader{R: r, N: maxTableBytes + 1}
	in := bufio.NewReader(limited)
	if bom, err := in.Peek(3); err == nil && string(bom) == "\ufeff" {
		in.Discard(3)
	}
	t := &caliperTable{name: name, csv: csv.NewReader(in)}
	t.csv.FieldsPerRecord = -1
	if t.header() {
		for t.row() {
		}
	}
	if limited.N <= 0 {
		t.fail(0, "", fmt.Sprintf("at most %d bytes", maxTableBytes))
	}
	if err := t.joined(); err != nil {
		return nil, err
	}
	return t.rows, nil
}

// caliperTable is a table while it is read.
type caliperTable struct {
	name  string
	csv   *csv.Reader
	index map[string]int // place of each known column
	width int            // columns of the header
	rows  []CaliperRow
	errs  []error
	more  int // faults beyond the limit
}

func (t *caliperTable) fail(line int, column, expected string) {
	if len(t.errs) >= maxTableErrors {
		t.more++
		return
	}
	t.errs = append(t.errs, &TableError{File: t.name, Line: line, Column: column, Expected: expected})
}

func (t *caliperTable) joined() error {
	if t.more > 0 {
		t.errs = append(t.errs, fmt.Errorf("%s: and %d more", t.name, t.more))
	}
	return errors.Join(t.errs...)
}

// read gives the next record that is one; faults of quoting are noted on the way.
func (t *caliperTable) read() (record []string, line int, ok bool) {
	for {
		record, err := t.csv.Read()
		var parse *csv.ParseError
		switch {
		case errors.Is(err, io.EOF):
			return nil, 0, false
		case errors.As(err, &parse):
			t.fail(parse.Line, fmt.Sprintf("character %d", parse.Column), "a field in which quotes are doubled and closed (RFC 4180)")
			continue
		case err != nil:
			t.fail(0, "", "a file that can be read to its end")
			return nil, 0, false
		}
		line, _ = t.csv.FieldPos(0)
		return record, line, true
	}
}

// header reads the header row and tells whether the rows can be read by it.
func (t *caliperTable) header() bool {
	record, line, ok := t.read()
	if !ok {
		t.fail(0, "", "a header row: sop_uid or path, frame, label, geometry, points, value, unit, observer")
		return false
	}
	if len(record) == 1 && strings.ContainsAny(record[0], ";\t") {
		t.fail(line, "", "columns separated by commas")
		return false
	}
	t.index, t.width = map[string]int{}, len(record)
	for i, cell := range record {
		t.headerCell(line, i, strings.ToLower(strings.TrimSpace(cell)))
	}
	t.neededColumns(line)
	return len(t.errs) == 0
}

func (t *caliperTable) headerCell(line, i int, word string) {
	column := fmt.Sprintf("column %d", i+1)
	known := make([]string, len(caliperColumns))
	for k, c := range caliperColumns {
		known[k] = c.name
	}
	_, twice := t.index[word]
	switch {
	case word == "":
		// A comma too many at the end of each line; rows must leave it empty.
	case !slices.Contains(known, word):
		t.fail(line, column, oneOf(known, word))
	case twice:
		t.fail(line, column, fmt.Sprintf("%s once", word))
	default:
		t.index[word] = i
	}
}

func (t *caliperTable) neededColumns(line int) {
	_, uid := t.index["sop_uid"]
	_, path := t.index["path"]
	if !uid && !path {
		t.fail(line, "", "a column sop_uid or path")
	}
	for _, c := range caliperColumns {
		if _, there := t.index[c.name]; c.needed && !there {
			t.fail(line, "", "a column "+c.name)
		}
	}
}

// row reads one row. Blank lines, and lines of commas alone, are passed over.
func (t *caliperTable) row() bool {
	record, line, ok := t.read()
	if !ok {
		return false
	}
	blank, fits := true, true
	for i, cell := range record {
		if record[i] = strings.TrimSpace(cell); record[i] != "" {
			blank = false
			fits = t.cell(line, i, record[i]) && fits
		}
	}
	if !blank && fits {
		c := cells{table: t, record: record, line: line}
		t.rows = append(t.rows, c.caliper())
	}
	if len(t.rows) > maxTableRows {
		t.fail(line, "", fmt.Sprintf("at most %d rows", maxTableRows))
		return false
	}
	return true
}

// cell tells whether a filled cell is text in a column that has a name.
func (t *caliperTable) cell(line, i int, text string) bool {
	expected := ""
	switch {
	case !utf8.ValidString(text) || strings.ContainsRune(text, 0):
		expected = "text in UTF-8"
	case i >= t.width:
		expected = fmt.Sprintf("%d columns, as the header has (points stand in quotes, for their commas)", t.width)
	case !t.named(i):
		expected = "nothing, as the header does not name the column"
	default:
		return true
	}
	t.fail(line, fmt.Sprintf("column %d", i+1), expected)
	return false
}

func (t *caliperTable) named(i int) bool {
	for _, at := range t.index {
		if at == i {
			return true
		}
	}
	return false
}

// oneOf says which words are possible, and which of them word may have meant.
func oneOf(words []string, word string) string {
	expected := "one of " + strings.Join(words, " ")
	if near := terms.Nearest(word, words); near != "" {
		expected += ", perhaps " + near
	}
	return expected
}
