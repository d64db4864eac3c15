package ingest

import (
	"os"
	"strings"
	"testing"

	"leadline/ingest/dcm"
)

func TestMeasures(t *testing.T) {
	rows, err := readMeasures("m.csv", strings.NewReader("label,measure,code,sides,title\nVent idx,ventricular-index,,,\n,tapse,LN 77903-3,,\nX,new-one,,Yes,New one\n"))
	if err != nil || len(rows) != 3 {
		t.Fatal(rows, err)
	}
	want := []MeasureRow{
		{Table: "m.csv", Line: 2, ID: "ventricular-index", Label: "Vent idx"},
		{Table: "m.csv", Line: 3, ID: "tapse", Code: dcm.Code{Scheme: "LN", Value: "77903-3"}},
		{Table: "m.csv", Line: 4, ID: "new-one", Label: "X", Title: "New one", Sides: true},
	}
	for i := range want {
		if rows[i] != want[i] {
			t.Errorf("row %d: %+v, want %+v", i, rows[i], want[i])
		}
	}
}

func TestMeasureErrors(t *testing.T) {
	for table, want := range map[string]string{
		"measur,label\n":                      "m.csv: row 1, column 1: expected one of measure label code title definition quantity unit plane sides, perhaps measure\nm.csv: row 1: expected a column measure",
		"measure,label\n,x\n":                 "m.csv: row 2, measure: expected the id of a measure, or a new one",
		"measure,code\ntapse,77903-3\n":       "m.csv: row 2, code: expected a scheme and a value, such as LN 8867-4 or 99WARD 17",
		"measure,label,sides\ntapse,x,left\n": "m.csv: row 2, sides: expected yes, no or nothing",
	} {
		if rows, err := readMeasures("m.csv", strings.NewReader(table)); err == nil || err.Error() != want || rows != nil {
			t.Errorf("got\n%v\nwant\n%s", err, want)
		}
	}
}

// The example of the README is a table that can be read.
func TestReadmeMeasures(t *testing.T) {
	readme, err := os.ReadFile("../README.md")
	if err != nil {
		t.Fatal(err)
	}
	_, example, found := strings.Cut(string(readme), "\n    measure,label,")
	example, _, _ = strings.Cut(example, "\n\n")
	rows, err := readMeasures("README.md", strings.NewReader(strings.ReplaceAll("measure,label,"+example, "\n    ", "\n")))
	if !found || err != nil || len(rows) != 4 {
		t.Errorf("%d rows, %v", len(rows), err)
	}
}
