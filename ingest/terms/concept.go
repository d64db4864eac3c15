package terms

import (
	_ "embed"
	"encoding/csv"
	"strings"
	"sync"

	"leadline/ingest/dcm"
)

// legacyCSV pairs the alphanumeric SNOMED codes that DICOM used until 2017 with
// the numeric ones, for the concepts that Leadline compares (PS3.16 Annex O; rows
// read in copies of its context groups).
//
//go:embed legacy.csv
var legacyCSV string

var legacy = sync.OnceValue(func() map[string]string {
	m := map[string]string{}
	for _, row := range table(legacyCSV) {
		m[row[0]] = row[1]
	}
	return m
})

// table reads the rows of an embedded table without its header. A table that
// cannot be read is a fault of the program, which its tests find.
func table(data string) [][]string {
	rows, err := csv.NewReader(strings.NewReader(data)).ReadAll()
	if err != nil {
		panic("reading an embedded table: " + err.Error())
	}
	return rows[1:]
}

// Current writes a concept as current editions do: designators of SNOMED other
// than SCT become SCT, and so do the alphanumeric codes of SRT, SNM3 and 99SDM
// that are known. What is not known stays as it is, so that it matches nothing by
// accident.
func Current(c dcm.Code) dcm.Code {
	switch c.Scheme {
	case "SRT", "SNM3", "99SDM":
		if v, ok := legacy()[c.Value]; ok {
			c.Value, c.Scheme = v, "SCT"
		}
	case "SNOMED-CT":
		c.Scheme = "SCT"
	}
	return c
}
