package export

import (
	"leadline/export/deid"
	"leadline/ingest"
)

// entry is one row of the codebook.
type entry struct {
	table  string
	column Column
}

// codebook lists every column of the tables, its own included, from the very
// definitions that write them.
func codebook(rules *deid.Rules, tables []Table) Table {
	d := definition[entry]{
		name: "codebook", title: "Codebook",
		about:   "One row for each column of each table.",
		subject: func(entry) *deid.Subject { return nil },
		columns: []column[entry]{
			{Column: Column{Name: "table", Heading: "Table", Kind: Text, Width: 14, Meaning: "The table, without .csv."},
				cell: func(e entry) Cell { return text(e.table) }},
			{Column: Column{Name: "column", Heading: "Column in CSV", Kind: Text, Width: 20, Meaning: "The header of the column in CSV."},
				cell: func(e entry) Cell { return text(e.column.Name) }},
			{Column: Column{Heading: "Column in this workbook", Kind: Text, Width: 24},
				cell: func(e entry) Cell { return text(e.column.Heading) }},
			{Column: Column{Name: "type", Heading: "Type", Kind: Text, Width: 14,
				Meaning: "text, integer, number (decimal sign \".\"), date (YYYY-MM-DD), time (HH:MM:SS), date and time (both joined by T, without a zone: the device's clock; a date alone where the time is not known), true or false, points (numbers only). An empty field is an absent value, never zero. Text that begins with = + - @ or a control character is written with an apostrophe before it, so that no spreadsheet runs it."},
				cell: func(e entry) Cell { return text(e.column.Kind.Word()) }},
			{Column: Column{Name: "unit", Heading: "Unit", Kind: Text, Width: 8, Meaning: "UCUM code of the unit; absent where there is none, or where a column of its own names it."},
				cell: func(e entry) Cell { return text(e.column.Unit) }},
			{Column: Column{Name: "meaning", Heading: "Meaning", Kind: Text, Width: 100, Wrap: true, Meaning: "What the column holds."},
				cell: func(e entry) Cell { return text(meaning(e.column)) }},
		},
	}
	t := d.table(rules, 0, nil)
	var entries []entry
	for _, table := range append(tables[:len(tables):len(tables)], t) {
		for _, c := range table.Columns {
			if c.Name != "" {
				entries = append(entries, entry{table.Name, c})
			}
		}
	}
	return d.table(rules, len(entries), func(yield func(entry) bool) {
		for _, e := range entries {
			if !yield(e) {
				return
			}
		}
	})
}

func meaning(c Column) string {
	if rule := c.Rule.Meaning(); rule != "" {
		return c.Meaning + " " + rule
	}
	return c.Meaning
}

// parseDay reads a DA value.
func parseDay(s string) ingest.Stamp { return ingest.ParseStamp(s, "") }
