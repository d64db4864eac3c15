package rebuild

import (
	"cmp"
	"slices"

	"leadline/analyse"
	"leadline/analyse/measures"
	"leadline/ingest"
)

// fromTables hands over the rows of caliper tables, one at a time: there may be
// hundreds of thousands.
func fromTables(rows []ingest.CaliperRow, words *measures.Catalogue, take func(*caliper)) {
	sorted := rows
	byPlace := func(a, b ingest.CaliperRow) int {
		return cmp.Or(cmp.Compare(a.Table, b.Table), cmp.Compare(a.Line, b.Line))
	}
	if !slices.IsSortedFunc(rows, byPlace) { // rows mostly come as they stand in their file
		sorted = slices.Clone(rows)
		slices.SortStableFunc(sorted, byPlace)
	}
	for i := range sorted {
		c := fromRow(&sorted[i], words)
		take(&c)
	}
}

func fromRow(row *ingest.CaliperRow, words *measures.Catalogue) caliper {
	match, known := words.OfLabel(row.Label)
	c := caliper{
		m: analyse.Measurement{
			Measure: match.ID, Side: match.Side, Label: row.Label, Source: analyse.SourceTable,
			Table: row.Table, Line: row.Line, SOPUID: row.SOPUID, Observer: row.Observer,
		},
		images: []ingest.Reference{{InstanceUID: row.SOPUID, Frames: row.Frames}},
		want:   wanted(match, known, row.Unit),
	}
	c.m.Reported = reported(row.Value, row.ValueText, row.Unit)
	c.put(rowShape(row))
	return c
}

// rowShape reads the geometry of a row as that of a graphic: a polyline of two
// points is a line, a closed one a polygon.
func rowShape(row *ingest.CaliperRow) shape {
	s := shape{geometry: row.Geometry, points: row.Points}
	if s.geometry == ingest.GeometryPolyline {
		s.geometry = pathGeometry(s.points)
	}
	return s
}
