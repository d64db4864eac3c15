package demo

import (
	"encoding/csv"
	"fmt"
	"slices"
	"strings"

	"leadline/ingest"
)

// caliperRow is one row of the caliper table that stands beside the archive.
type caliperRow struct {
	sop, frame, label string
	geometry          ingest.Geometry
	points            string
	value, unit       string
	observer          string
}

// tabulate measures a mark a second time, by another observer, into the caliper
// table; a row without value stands for the caliper alone.
func (s *study) tabulate(o *object, name, short string, withValue bool) {
	m, k := measures[name], o.pic.marks[name]
	k.points = secondLook(o.uid, k.points)
	row := caliperRow{sop: o.uid, frame: "1", label: short, geometry: k.geometry, observer: "second observer"}
	if o.clip() {
		row.frame = fmt.Sprint(k.frame)
	}
	var words []string
	for _, p := range k.points {
		words = append(words, fmt.Sprintf("%g,%g", p.X, p.Y))
	}
	row.points = strings.Join(words, " ")
	if withValue {
		row.value, row.unit = m.text(o.pic.regions[k.region], k), m.unit.value
	} else {
		s.truth = append(s.truth, truthRow{s.uid, o.uid, caliperTable, "", "rebuilt-only", short, "a caliper of the table without a value"})
	}
	s.calipers = append(s.calipers, row)
}

// secondLook sets the last point a little higher or lower, as another hand does:
// half a pixel or a whole one, told by the picture.
func secondLook(uid string, points []ingest.Point) []ingest.Point {
	by := []float64{-1, -0.5, 0.5, 1}
	points = slices.Clone(points)
	points[len(points)-1].Y += by[int(uid[len(uid)-1]-'0')%len(by)]
	return points
}

// caliperTable is the name of the table, truthTable that of what an audit of the
// folder must find, caliperTruth that of what it finds in addition where the
// caliper table is given to it, pictureTruth where it looks at pictures (--pixels).
const (
	caliperTable = "calipers.csv"
	truthTable   = "truth.csv"
	caliperTruth = "truth-calipers.csv"
	pictureTruth = "truth-pixels.csv"
)

// caliperCSV writes the table (design: where calipers come from).
func caliperCSV(studies []*study) ([]byte, error) {
	rows := [][]string{{"sop_uid", "frame", "label", "geometry", "points", "value", "unit", "observer"}}
	for _, s := range studies {
		for _, c := range s.calipers {
			rows = append(rows, []string{c.sop, c.frame, c.label, string(c.geometry), c.points, c.value, c.unit, c.observer})
		}
	}
	return csvBytes(rows)
}

// table is what must be read too so that the row is found; empty where the files do.
func (t truthRow) table() string {
	switch t.path {
	case caliperTable, labelTable, inPicture:
		return t.path
	}
	return ""
}

// truthCSV writes what must be found of the files, or in addition of a table or of
// the pictures: the rows whose path is that name.
func truthCSV(table string) func([]*study) ([]byte, error) {
	return func(studies []*study) ([]byte, error) {
		rows := [][]string{{"study_uid", "sop_uid", "path", "finding", "verdict", "item", "what"}}
		for _, s := range studies {
			for _, t := range s.truth {
				if t.table() != table {
					continue
				}
				if table == inPicture {
					t.path = ""
				}
				rows = append(rows, []string{t.study, t.sop, t.path, t.finding, t.verdict, t.item, t.what})
			}
		}
		return csvBytes(rows)
	}
}

func csvBytes(rows [][]string) ([]byte, error) {
	var out strings.Builder
	w := csv.NewWriter(&out)
	if err := w.WriteAll(rows); err != nil {
		return nil, fmt.Errorf("writing a table: %w", err)
	}
	return []byte(out.String()), nil
}
