package ingest

import (
	"io"
	"strings"

	"leadline/ingest/dcm"
)

// MeasureRow is one row of a table of measures: one more label or code of a measure,
// or the first row of a measure of the unit's own.
type MeasureRow struct {
	// Table and Line are the place of the row.
	Table string
	Line  int
	ID    string
	Label string
	// Code is a coded concept that means the measure, whatever stands around it.
	Code dcm.Code
	// The rest defines a measure that the catalogue has not; whether its words are
	// known is judged later.
	Title, Definition, Quantity, Unit, Plane string
	Sides                                    bool
}

var measureColumns = []tableColumn{
	{"measure", true}, {"label", false}, {"code", false}, {"title", false}, {"definition", false},
	{"quantity", false}, {"unit", false}, {"plane", false}, {"sides", false},
}

// ReadMeasures reads a table of measures: comma-separated values in UTF-8 with a
// header row. On any fault no rows are returned, and the error joins a TableError
// for each.
func ReadMeasures(path string) ([]MeasureRow, error) {
	f, err := openTable(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return readMeasures(path, f)
}

func readMeasures(name string, r io.Reader) ([]MeasureRow, error) {
	var rows []MeasureRow
	err := readTable(name, r, measureColumns, nil, func(c cells) { rows = append(rows, c.measure()) })
	if err != nil {
		return nil, err
	}
	return rows, nil
}

func (c cells) measure() MeasureRow {
	row := MeasureRow{
		Table: c.table.name, Line: c.line, ID: c.filled("measure", "the id of a measure, or a new one"),
		Label: c.get("label"), Title: c.get("title"), Definition: c.get("definition"),
		Quantity: c.get("quantity"), Unit: c.get("unit"), Plane: c.get("plane"),
	}
	if text := c.get("code"); text != "" {
		words := strings.Fields(text)
		if len(words) != 2 {
			c.fail("code", "a scheme and a value, such as LN 8867-4 or 99WARD 17")
		} else {
			row.Code = dcm.Code{Scheme: words[0], Value: words[1]}
		}
	}
	switch strings.ToLower(c.get("sides")) {
	case "yes":
		row.Sides = true
	case "", "no":
	default:
		c.fail("sides", "yes, no or nothing")
	}
	return row
}
