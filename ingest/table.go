package ingest

import (
	"bufio"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strings"
	"unicode/utf8"

	"leadline/ingest/terms"
)

// Limits of a table that a person or another program wrote.
const (
	maxTableBytes  = 64 << 20
	maxTableRows   = 1_000_000
	maxTableErrors = 20
	// maxRecordBytes is how long one row may be: a file without line ends, or with an
	// open quote, is one row, and each byte of it is held several times.
	maxRecordBytes = 1 << 20
)

// tableLimits bound a table. others tells that columns without a known word are
// passed over.
type tableLimits struct {
	bytes  int64
	rows   int
	others bool
}

// tableColumn is a word of a header row; needed ones must be there.
type tableColumn struct {
	name   string
	needed bool
}

// TableError is one fault of a table: where it is and what was expected there. It
// never holds what was found: a label may name a patient.
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

var errLongRecord = errors.New("a row is too long")

// recordReader reads no more than maxRecordBytes while n is not set back.
type recordReader struct {
	r io.Reader
	n int
}

func (l *recordReader) Read(b []byte) (int, error) {
	if l.n > maxRecordBytes {
		return 0, errLongRecord
	}
	n, err := l.r.Read(b)
	l.n += n
	return n, err
}

// openTable opens a regular file; anything else is a *TableError.
func openTable(path string) (*os.File, error) {
	f, err := openNow(path)
	if err == nil {
		var info os.FileInfo
		if info, err = f.Stat(); err == nil && !info.Mode().IsRegular() {
			err = errors.New("not a regular file")
		}
		if err == nil {
			return f, nil
		}
		f.Close()
	}
	expected := "a file that can be read"
	if errors.Is(err, fs.ErrNotExist) {
		expected += ", found none of that name"
	}
	return nil, &TableError{File: path, Expected: expected, cause: err}
}

// table is a table of comma-separated values in UTF-8 while it is read.
type table struct {
	name    string
	limits  tableLimits
	columns []tableColumn
	csv     *csv.Reader
	record  *recordReader
	index   map[string]int // place of each known column
	known   []bool         // the columns of the header that have a place
	errs    []error
	more    int // faults beyond the limit
}

// readTable reads a table from r and hands over its rows, all faults of the table
// as such left out. name is what errors call it; header, where set, looks at the
// header once more. The error joins a TableError for each fault, at most 20 and
// then how many more.
func readTable(name string, r io.Reader, columns []tableColumn, header func(*table, int), row func(cells)) error {
	return readTableWithin(name, r, tableLimits{bytes: maxTableBytes, rows: maxTableRows}, columns, header, row)
}

// readTableWithin is readTable with other limits.
func readTableWithin(name string, r io.Reader, limits tableLimits, columns []tableColumn, header func(*table, int), row func(cells)) error {
	limited := &io.LimitedReader{R: r, N: limits.bytes + 1}
	rationed := &recordReader{r: limited}
	in := bufio.NewReader(rationed)
	if bom, err := in.Peek(3); err == nil && string(bom) == "\ufeff" {
		in.Discard(3)
	}
	t := &table{name: name, limits: limits, columns: columns, csv: csv.NewReader(in), record: rationed}
	t.csv.FieldsPerRecord = -1
	if t.header(header) {
		for rows := 0; t.row(&rows, row); {
		}
	}
	if limited.N <= 0 {
		t.fail(0, "", fmt.Sprintf("at most %d bytes", limits.bytes))
	}
	return t.joined()
}

func (t *table) fail(line int, column, expected string) {
	if len(t.errs) >= maxTableErrors {
		t.more++
		return
	}
	t.errs = append(t.errs, &TableError{File: t.name, Line: line, Column: column, Expected: expected})
}

func (t *table) joined() error {
	if t.more > 0 {
		t.errs = append(t.errs, fmt.Errorf("%s: and %d more", t.name, t.more))
	}
	return errors.Join(t.errs...)
}

// read gives the next record that is one; faults of quoting are noted on the way.
func (t *table) read() (record []string, line int, ok bool) {
	for {
		t.record.n = 0
		record, err := t.csv.Read()
		var parse *csv.ParseError
		switch {
		case errors.Is(err, io.EOF):
			return nil, 0, false
		case errors.As(err, &parse):
			t.fail(parse.Line, fmt.Sprintf("character %d", parse.Column), "a field in which quotes are doubled and closed (RFC 4180)")
			continue
		case errors.Is(err, errLongRecord):
			t.fail(0, "", fmt.Sprintf("rows of at most %d bytes, each on a line", maxRecordBytes))
			return nil, 0, false
		case err != nil:
			t.fail(0, "", "a file that can be read to its end")
			return nil, 0, false
		}
		line, _ = t.csv.FieldPos(0)
		return record, line, true
	}
}

// words are the names of all columns.
func (t *table) words() []string {
	words := make([]string, len(t.columns))
	for i, c := range t.columns {
		words[i] = c.name
	}
	return words
}

// header reads the header row and tells whether the rows can be read by it.
func (t *table) header(also func(*table, int)) bool {
	record, line, ok := t.read()
	if !ok {
		t.fail(0, "", "a header row: "+strings.Join(t.words(), ", "))
		return false
	}
	if len(record) == 1 && strings.ContainsAny(record[0], ";\t") {
		t.fail(line, "", "columns separated by commas")
		return false
	}
	t.index, t.known = map[string]int{}, make([]bool, len(record))
	for i, cell := range record {
		t.headerCell(line, i, strings.ToLower(strings.TrimSpace(cell)))
	}
	if also != nil {
		also(t, line)
	}
	for _, c := range t.columns {
		if _, there := t.index[c.name]; c.needed && !there {
			t.fail(line, "", "a column "+c.name)
		}
	}
	return len(t.errs) == 0
}

func (t *table) headerCell(line, i int, word string) {
	column := fmt.Sprintf("column %d", i+1)
	known := false
	for _, c := range t.columns {
		known = known || c.name == word
	}
	_, twice := t.index[word]
	switch {
	case word == "":
		// A comma too many at the end of each line; rows must leave it empty.
	case !known && t.limits.others:
	case !known:
		t.fail(line, column, oneOf(t.words(), word))
	case twice:
		t.fail(line, column, fmt.Sprintf("%s once", word))
	default:
		t.index[word], t.known[i] = i, true
	}
}

// row reads one row. Blank lines, and lines of commas alone, are passed over.
func (t *table) row(rows *int, take func(cells)) bool {
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
		take(cells{table: t, record: record, line: line})
		*rows++
	}
	if *rows > t.limits.rows {
		t.fail(line, "", fmt.Sprintf("at most %d rows", t.limits.rows))
		return false
	}
	return true
}

// cell tells whether a filled cell is text in a column that has a name.
func (t *table) cell(line, i int, text string) bool {
	expected := ""
	switch {
	case !utf8.ValidString(text) || strings.ContainsRune(text, 0):
		expected = "text in UTF-8"
	case i >= len(t.known):
		expected = fmt.Sprintf("%d columns, as the header has (a cell with a comma in it stands in quotes)", len(t.known))
	case !t.known[i] && !t.limits.others:
		expected = "nothing, as the header does not name the column"
	default:
		return true
	}
	t.fail(line, fmt.Sprintf("column %d", i+1), expected)
	return false
}

// cells reads the cells of one row.
type cells struct {
	table  *table
	record []string
	line   int
}

func (c cells) get(column string) string {
	if i, ok := c.table.index[column]; ok && i < len(c.record) {
		return c.record[i]
	}
	return ""
}

func (c cells) fail(column, expected string) { c.table.fail(c.line, column, expected) }

// oneOf says which words are possible, and which of them word may have meant.
func oneOf(words []string, word string) string {
	expected := "one of " + strings.Join(words, " ")
	if near := terms.Nearest(word, words); near != "" {
		expected += ", perhaps " + near
	}
	return expected
}
