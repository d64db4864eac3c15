package main

import (
	"fmt"
	"strconv"
	"strings"
	"text/tabwriter"

	"leadline/export"
	"leadline/export/deid"
	"leadline/export/steps"
	"leadline/ingest"
)

// fileView is one file as show prints it: the rows of the tables that are about
// it, under the same identity rules, and details that no table has.
type fileView struct {
	Path    string                      `json:"path"`
	Tables  map[string][]map[string]any `json:"tables"`
	Details []detail                    `json:"details,omitempty"`
	// Steps are the work of each measurement whose caliper lies on this image.
	Steps []measured `json:"steps,omitempty"`
	// Indices are the work of each index of the study, with its last file.
	Indices []derived `json:"indices,omitempty"`
	tables  map[string]export.Table
	inst    *ingest.Instance
	tree    []string
}

// detail is one fact in words.
type detail struct {
	Name  string `json:"name"`
	Value string `json:"value"`
}

// shownTables are the tables a file has rows in.
var shownTables = []string{"files", "studies", "images", "regions", "measurements", "indices", "findings"}

func viewOf(book *export.Book, inst *ingest.Instance, path string) fileView {
	v := fileView{Path: path, Tables: map[string][]map[string]any{}, tables: map[string]export.Table{}}
	for _, t := range book.Tables {
		v.tables[t.Name] = t
	}
	for _, name := range shownTables {
		v.Tables[name] = objects(v.tables[name])
	}
	if inst != nil {
		v.Details, v.inst, v.tree = detailsOf(inst, book.Identity), inst, treeOf(inst, book)
	}
	return v
}

// objects are the rows of a table with its column names as keys; absent cells are
// left out.
func objects(t export.Table) []map[string]any {
	rows := []map[string]any{}
	if t.Rows == nil {
		return rows
	}
	for cells := range t.Rows {
		row := map[string]any{}
		for i, c := range t.Columns {
			if c.Name != "" && cells[i].Kind != export.Absent {
				row[c.Name] = plain(cells[i])
			}
		}
		rows = append(rows, row)
	}
	return rows
}

// plain is the JSON value of a cell: numbers as numbers, the rest as in CSV.
func plain(c export.Cell) any {
	switch c.Kind {
	case export.Integer, export.Number, export.Share:
		return c.Number
	case export.Flag:
		return c.Text == "true"
	}
	return c.String()
}

// The columns that the text shows, in order. What is not named repeats another
// table or counts over a whole study.
var (
	fileColumns  = []string{"outcome", "reason", "bytes", "sop_class", "sop_uid", "transfer_syntax"}
	studyColumns = []string{"study_uid", "study_id", "accession_number", "study_date", "study_time", "device", "operator"}
	imageColumns = []string{
		"instance_number", "acquired", "kind", "modes", "view", "columns", "rows", "frames", "frame_rate_hz",
		"duration_s", "depth_mm", "calibration", "mechanical_index", "thermal_index", "thermal_index_kind",
	}
)

func (v *fileView) text() string {
	var b strings.Builder
	fmt.Fprintln(&b, v.Path)
	v.list(&b, "File", "files", fileColumns)
	v.list(&b, "Study", "studies", studyColumns)
	v.list(&b, "Image", "images", imageColumns)
	if len(v.Details) > 0 {
		fmt.Fprintln(&b, "\nDetails")
		for _, d := range v.Details {
			b.WriteString(steps.Wrap(d.Name+": "+strings.Join(strings.Fields(d.Value), " "), 2))
		}
	}
	v.regions(&b)
	if len(v.tree) > 0 {
		fmt.Fprintf(&b, "\nTree of the report (* has a caliper)\n")
		for _, line := range v.tree {
			text := strings.TrimLeft(line, " ")
			b.WriteString(steps.Wrap(text, 2+len(line)-len(text)))
		}
	}
	v.findings(&b)
	v.measurements(&b)
	v.indices(&b)
	return b.String()
}

// list prints each row of a table as lines of heading and value.
func (v *fileView) list(b *strings.Builder, title, table string, columns []string) {
	t := v.tables[table]
	if t.Len == 0 {
		return
	}
	w := tabwriter.NewWriter(b, 0, 0, 2, ' ', 0)
	fmt.Fprintf(w, "\n%s\n", title)
	at := places(t, columns)
	for cells := range t.Rows {
		for _, i := range at {
			if cells[i].Kind != export.Absent {
				fmt.Fprintf(w, "  %s\t%s\n", t.Columns[i].Heading, words(cells[i]))
			}
		}
	}
	w.Flush()
}

// places finds the named columns, and after them those about the patient, which a
// table has with full identity only.
func places(t export.Table, names []string) []int {
	var at []int
	for _, name := range names {
		for i, c := range t.Columns {
			if c.Name == name {
				at = append(at, i)
			}
		}
	}
	for i, c := range t.Columns {
		if c.Rule == deid.Patient {
			at = append(at, i)
		}
	}
	return at
}

// shownDigits are enough to tell any two scales of real devices apart; JSON has all.
const shownDigits = 7

// words is a cell on one line, rounded as a sheet shows it.
func words(c export.Cell) string {
	switch {
	case c.Kind == export.Number && c.Text == "" && c.Rounded:
		return strconv.FormatFloat(c.Number, 'f', max(0, c.Places), 64)
	case c.Kind == export.Number && c.Text == "":
		return strconv.FormatFloat(c.Number, 'g', shownDigits, 64)
	}
	return strings.Join(strings.Fields(c.String()), " ")
}
