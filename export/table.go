package export

import (
	"iter"

	"leadline/export/deid"
)

// Table is one table, ready to be written in any format.
type Table struct {
	// Name is the file name without its ending, Title the name in words.
	Name, Title string
	// About says in a sentence what one row is.
	About   string
	Columns []Column
	// Len is the number of rows.
	Len int
	// Rows makes the rows one at a time. The slice is used again for the next row.
	Rows iter.Seq[[]Cell]
}

// Column is what is said about one column.
type Column struct {
	// Name is the header that other programs rely on, empty for a column that
	// only sheets show; Heading is the header in words, with the unit.
	Name, Heading string
	Kind          Kind
	// Unit is a UCUM code, empty where the column has none or a column of its own
	// names it.
	Unit string
	// Meaning is the text of the codebook.
	Meaning string
	// Rule says what becomes of identifying values.
	Rule deid.Rule

	// Width is the width in a sheet, in characters; Places the digits shown after
	// the point; Wrap breaks long text; Place, Signal and Wording are for sheets too.
	Width  float64
	Places int
	Wrap   bool
	Place  Place
	Signal Signal
	Wording
	// Pen is a column that stays empty, framed for a person to write in; a sheet that
	// has one draws a line under each row.
	Pen bool
}

// Place says where a sheet shows a column: what a reader looks for first at the
// front, then the rest that is printed, then aside what is seen on the screen only,
// and at the back what only programs need. CSV keeps the order of the list.
type Place int

// The places.
const (
	Front  Place = -1
	Middle Place = 0
	Aside  Place = 1
	Back   Place = 2
)

// Printed tells whether the column is on paper, where a page has room for the
// columns that are read.
func (p Place) Printed() bool { return p <= Middle }

// column is a Column with the function that makes its cell of a row. ruleOf, where
// set, chooses the rule by the row.
type column[R any] struct {
	Column
	cell   func(R) Cell
	ruleOf func(R) deid.Rule
}

// pointers walks a list without copying its elements.
func pointers[T any](list []T) iter.Seq[*T] {
	return func(yield func(*T) bool) {
		for i := range list {
			if !yield(&list[i]) {
				return
			}
		}
	}
}

// definition is one table: its columns in the order of the CSV. subject tells
// whom a row is about, nil where nobody is known.
type definition[R any] struct {
	name, title, about string
	columns            []column[R]
	subject            func(R) *deid.Subject
}

// table binds a definition to n rows under the rules of an identity.
func (d definition[R]) table(rules *deid.Rules, n int, rows iter.Seq[R]) Table {
	columns := allowed(d.columns, rules.Identity())
	t := Table{Name: d.name, Title: d.title, About: d.about, Len: n}
	for _, c := range columns {
		t.Columns = append(t.Columns, c.Column)
	}
	t.Rows = func(yield func([]Cell) bool) {
		cells := make([]Cell, len(columns))
		for r := range rows {
			subject := d.subject(r)
			for i := range columns {
				cells[i] = guarded(rules, &columns[i], subject, r)
			}
			if !yield(cells) {
				return
			}
		}
	}
	return t
}

// allowed leaves out the patient columns unless identity is full.
func allowed[R any](columns []column[R], identity deid.Identity) []column[R] {
	var out []column[R]
	for _, c := range columns {
		if c.Rule != deid.Patient || identity == deid.Full {
			out = append(out, c)
		}
	}
	return out
}

// guarded makes a cell and applies the identity to it.
func guarded[R any](rules *deid.Rules, c *column[R], subject *deid.Subject, r R) Cell {
	cell := c.cell(r)
	rule := c.Rule
	if c.ruleOf != nil {
		rule = c.ruleOf(r)
	}
	if rule == deid.Keep {
		return cell
	}
	switch cell.Kind {
	case Text:
		return text(rules.Text(rule, subject, cell.Text))
	case Date, Moment:
		if cell.Time = rules.Time(rule, subject, cell.Time); cell.Time.IsZero() {
			return Cell{}
		}
	}
	return cell
}
