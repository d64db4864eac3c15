package ingest

import (
	"bytes"
	_ "embed"
	"io"
	"math"
	"strings"
)

// BuiltinReferences is the name of the reference table that comes with the program.
const BuiltinReferences = "builtin"

// referencesCSV holds only limits that were seen in print, or mean and standard
// deviation seen in print with the limits computed from them, which its column
// limits says (shared/reference/measurements.md and check-values.md, rows marked
// found).
//
//go:embed references.csv
var referencesCSV []byte

var referenceColumns = []tableColumn{
	{"id", true}, {"population", true}, {"age_days", false}, {"weight_kg", false},
	{"gestation_weeks", false}, {"postmenstrual_weeks", false},
	{"low", false}, {"high", false}, {"unit", true}, {"limits", true}, {"source", true},
}

// ReadReferences reads a reference table: the one that comes with the program by
// its name, else a file of comma-separated values in UTF-8 with a header row. On
// any fault no rows are returned, and the error joins a TableError for each.
func ReadReferences(nameOrPath string) ([]ReferenceRow, error) {
	if nameOrPath == BuiltinReferences {
		return readReferences(nameOrPath, bytes.NewReader(referencesCSV))
	}
	f, err := openTable(nameOrPath)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return readReferences(nameOrPath, f)
}

func readReferences(name string, r io.Reader) ([]ReferenceRow, error) {
	var rows []ReferenceRow
	err := readTable(name, r, referenceColumns, nil, func(c cells) { rows = append(rows, c.reference()) })
	if err != nil {
		return nil, err
	}
	return rows, nil
}

func (c cells) reference() ReferenceRow {
	row := ReferenceRow{
		Table: c.table.name, Line: c.line,
		ID: c.filled("id", "the id of a measure or an index"), Population: c.filled("population", "whom the limits hold for, in words"),
		AgeDays: c.span("age_days"), WeightKg: c.span("weight_kg"),
		GestationWeeks: c.span("gestation_weeks"), PostmenstrualWeeks: c.span("postmenstrual_weeks"),
		Low: c.limit("low"), High: c.limit("high"),
		Unit:   c.filled("unit", "the unit of low and high, 1 for a ratio"),
		Limits: c.filled("limits", "what low and high are, such as: 3rd to 97th centile"),
		Source: c.filled("source", "where the limits were printed"),
	}
	switch {
	case c.get("low") == "" && c.get("high") == "":
		c.fail("low", "a number here or in the column high")
	case row.Low.Set && row.High.Set && row.Low.Value >= row.High.Value:
		c.fail("high", "a number above low")
	}
	return row
}

// filled is a cell that must not be empty.
func (c cells) filled(column, expected string) string {
	text := c.get(column)
	if text == "" {
		c.fail(column, expected)
	}
	return text
}

func (c cells) limit(column string) Optional[float64] {
	text := c.get(column)
	if text == "" {
		return Optional[float64]{}
	}
	v, ok := number(text)
	if !ok || math.IsInf(v, 0) {
		c.fail(column, "a number with a decimal point, or nothing")
		return Optional[float64]{}
	}
	return Some(v)
}

// span reads "28..33", "..33" or "28..". The two points keep spreadsheet programs
// from making a date of it.
func (c cells) span(column string) Span {
	text := c.get(column)
	if text == "" {
		return Span{}
	}
	from, to, ok := strings.Cut(text, "..")
	var s Span
	for _, end := range []struct {
		text string
		put  *Optional[float64]
	}{{from, &s.From}, {to, &s.To}} {
		if word := strings.TrimSpace(end.text); word != "" {
			v, isNumber := number(word)
			ok = ok && isNumber && v >= 0 && !math.IsInf(v, 0)
			*end.put = Some(v)
		}
	}
	if !ok || s.Any() || s.From.Set && s.To.Set && s.From.Value >= s.To.Value {
		c.fail(column, "from..to with from below to, such as 28..33; the first belongs to it, the last does not; either may be left out")
		return Span{}
	}
	return s
}
