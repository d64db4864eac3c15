package export_test

import (
	"slices"
	"strings"
	"testing"

	"leadline/analyse"
	"leadline/export"
	"leadline/export/deid"
	"leadline/export/internal/sample"
	"leadline/ingest"
)

func table(t *testing.T, tables []export.Table, name string) export.Table {
	t.Helper()
	for _, table := range tables {
		if table.Name == name {
			return table
		}
	}
	t.Fatalf("no table %s", name)
	return export.Table{}
}

// column lists one column of a table, as CSV writes it.
func column(t *testing.T, table export.Table, name string) []string {
	t.Helper()
	for i, c := range table.Columns {
		if c.Name == name {
			var out []string
			for cells := range table.Rows {
				out = append(out, cells[i].String())
			}
			return out
		}
	}
	t.Fatalf("table %s has no column %s", table.Name, name)
	return nil
}

// Rows can be made twice, stop when asked to, and are as many as was said.
func TestRows(t *testing.T) {
	for _, table := range export.Tables(sample.Result(), export.Options{}) {
		for range 2 {
			n := 0
			for cells := range table.Rows {
				if n++; len(cells) != len(table.Columns) {
					t.Fatalf("%s: %d cells for %d columns", table.Name, len(cells), len(table.Columns))
				}
			}
			if n != table.Len || n == 0 {
				t.Errorf("%s: %d rows, said %d", table.Name, n, table.Len)
			}
		}
		for range table.Rows {
			break
		}
	}
}

// Every column of every table, the codebook's own included, has its text.
func TestCodebook(t *testing.T) {
	for _, identity := range deid.Identities {
		tables := export.Tables(sample.Result(), export.Options{Identity: identity})
		book := table(t, tables, "codebook")
		names, columns, meanings := column(t, book, "table"), column(t, book, "column"), column(t, book, "meaning")
		at := 0
		for _, table := range tables {
			for _, c := range table.Columns {
				if c.Heading == "" || c.Width == 0 {
					t.Errorf("%s.%s: no heading or width", table.Name, c.Name)
				}
				if c.Name == "" {
					continue
				}
				if names[at] != table.Name || columns[at] != c.Name || meanings[at] == "" {
					t.Errorf("row %d: %s.%s %q, want %s.%s", at+1, names[at], columns[at], meanings[at], table.Name, c.Name)
				}
				at++
			}
		}
		if at != book.Len {
			t.Errorf("%d columns, %d rows of codebook", at, book.Len)
		}
	}
}

func TestPatientColumns(t *testing.T) {
	for _, identity := range deid.Identities {
		studies := table(t, export.Tables(sample.Result(), export.Options{Identity: identity}), "studies")
		has := false
		for _, c := range studies.Columns {
			has = has || strings.HasPrefix(c.Name, "patient_")
		}
		if has != (identity == deid.Full) {
			t.Errorf("identity %s: patient columns %v", identity, has)
		}
	}
}

// People are numbered by their first study, whichever table names them.
func TestPeople(t *testing.T) {
	tables := export.Tables(sample.Result(), export.Options{})
	if got := column(t, table(t, tables, "studies"), "operator"); got[1] != "person 1; person 2" || got[2] != "person 1" {
		t.Errorf("operators: %q", got)
	}
	if got := column(t, table(t, tables, "measurements"), "observer"); got[0] != "person 2" || got[4] != "person 1" {
		t.Errorf("observers: %q", got)
	}
}

// Studies of one moment stand in the order of their UIDs, whatever order they come in.
func TestStudiesAtOnce(t *testing.T) {
	first, second := &analyse.Study{UID: "2.25.1", Header: &ingest.Study{}}, &analyse.Study{UID: "2.25.2", Header: &ingest.Study{}}
	for _, studies := range [][]*analyse.Study{{first, second}, {second, first}} {
		tables := export.Tables(&analyse.Result{Studies: studies}, export.Options{})
		if got := column(t, table(t, tables, "studies"), "study_uid"); !slices.Equal(got, []string{"2.25.1", "2.25.2"}) {
			t.Errorf("studies %q", got)
		}
	}
}

// With identity none, tables join by pseudonyms, and intervals between dates stay.
func TestPseudonymsJoin(t *testing.T) {
	tables := export.Tables(sample.Result(), export.Options{Identity: deid.None})
	known := map[string]bool{}
	for _, uid := range column(t, table(t, tables, "studies"), "study_uid") {
		if !strings.HasPrefix(uid, "2.25.") {
			t.Errorf("study_uid %q is no pseudonym", uid)
		}
		known[uid] = true
	}
	for _, name := range []string{"measurements", "images", "regions", "indices", "completeness"} {
		for _, uid := range column(t, table(t, tables, name), "study_uid") {
			if !known[uid] {
				t.Errorf("%s: study_uid %q is in no row of studies", name, uid)
			}
		}
	}
	for _, label := range column(t, table(t, tables, "measurements"), "label") {
		if strings.Contains(label, "HYPERLINK") || strings.Contains(label, "withheld") {
			t.Errorf("free text left with identity none: %q", label)
		}
	}
	dates := column(t, table(t, tables, "studies"), "study_date")
	for i := 1; i < len(dates); i++ {
		if dates[i] < dates[i-1] {
			t.Errorf("studies are not in the order of the dates they show: %q", dates)
		}
	}
}

// A study outside the dates is in no table but files; its patient's name must not
// show there either.
func TestOutOfRangePaths(t *testing.T) {
	r := sample.Result()
	r.OutOfRange, r.Studies = r.Studies[:1], r.Studies[1:]
	for _, path := range column(t, table(t, export.Tables(r, export.Options{}), "files"), "path") {
		if strings.Contains(path, "Quastenflosser") {
			t.Errorf("path %q names a patient", path)
		}
	}
}

// The order of the overview is the order of reading.
func TestOverview(t *testing.T) {
	b := export.NewBook(sample.Result(), export.Options{Version: "dev"})
	var titles []string
	for _, s := range b.Overview {
		titles = append(titles, s.Title)
	}
	want := "Audit of ultrasound studies|At a glance|The month|What to look at first|Studies with most errors|What is complete|What differs|When studies were made and documented|What was read|Cautions|Sheets"
	if got := strings.Join(titles, "|"); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	for _, s := range b.Overview {
		for _, l := range s.Lines {
			if l.Row > 0 && (l.Table != "studies" || l.Row > 3) {
				t.Errorf("%s: a line leads to row %d of %s", s.Title, l.Row, l.Table)
			}
		}
	}
}
