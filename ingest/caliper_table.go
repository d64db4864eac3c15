package ingest

import (
	"io"
	"strings"
)

// caliperColumns are the words of the header row; sop_uid or path or both must be
// there too.
var caliperColumns = []tableColumn{
	{"sop_uid", false}, {"path", false}, {"frame", false}, {"label", true}, {"geometry", true},
	{"points", true}, {"value", false}, {"unit", false}, {"observer", false},
}

// ReadCalipers reads a caliper table: comma-separated values in UTF-8 with a header
// row (sop_uid or path, frame, label, geometry, points, value, unit, observer, in
// any order; frame, value, unit and observer may be missing).
//
// Points are x,y pairs in continuous image coordinates, separated by blanks or
// semicolons. Frame is one number from 1, or two for the geometry frames. A row
// number is the line in the file. On any fault no rows are returned, and the
// error joins a TableError for each, at most 20 and then how many more.
func ReadCalipers(path string) ([]CaliperRow, error) {
	f, err := openTable(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return readCalipers(path, f)
}

// readCalipers reads the table from r; name is what errors and rows call it.
func readCalipers(name string, r io.Reader) ([]CaliperRow, error) {
	var rows []CaliperRow
	err := readTable(name, r, caliperColumns, needImage, func(c cells) { rows = append(rows, c.caliper()) })
	if err != nil {
		return nil, err
	}
	return rows, nil
}

// needImage wants a column that tells the image.
func needImage(t *table, line int) {
	_, uid := t.index["sop_uid"]
	_, path := t.index["path"]
	if !uid && !path {
		t.fail(line, "", "a column sop_uid or path")
	}
}

// image reads which image a row is about.
func (c cells) image() (sopUID, path string) {
	sopUID, path = c.get("sop_uid"), c.get("path")
	if sopUID == "" && path == "" {
		c.fail("sop_uid", "the SOP Instance UID of the image, or its path in the column path")
	}
	if len(sopUID) > 64 || strings.Trim(sopUID, "0123456789.") != "" {
		c.fail("sop_uid", "a UID: at most 64 digits and dots")
	}
	return sopUID, path
}
