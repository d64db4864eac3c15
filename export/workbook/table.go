package workbook

import (
	"fmt"
	"slices"
	"sort"

	"github.com/xuri/excelize/v2"

	"leadline/export"
)

// arranged is the order of the columns in a sheet: the front ones first, the back
// ones last; printed is how many are printed.
func arranged(columns []export.Column) (at []int, printed int) {
	for i := range columns {
		at = append(at, i)
		if columns[i].Place.Printed() {
			printed++
		}
	}
	sort.SliceStable(at, func(i, j int) bool { return columns[at[i]].Place < columns[at[j]].Place })
	return at, printed
}

// sheetName names the nth sheet of a table, from 1.
func sheetName(t export.Table, n int) string {
	if n == 1 {
		return t.Title
	}
	return fmt.Sprintf("%s (%d)", t.Title, n)
}

// headerRow is the row of the column headings.
func (w *writer) headerRow() int {
	if w.full() {
		return 2 // under the banner
	}
	return 1
}

// capacity is how many rows of a table one sheet holds.
func (w *writer) capacity() int { return w.rows - w.headerRow() }

// sheetsOf is how many sheets a table takes.
func (w *writer) sheetsOf(t export.Table) int {
	return max(1, (t.Len+w.capacity()-1)/w.capacity())
}

// table writes one table, over as many sheets as it takes.
func (w *writer) table(t export.Table) error {
	s, err := w.open(t, 1)
	if err != nil {
		return err
	}
	n := 1
	for cells := range t.Rows {
		if s.rows == w.capacity() {
			if err := s.close(); err != nil {
				return err
			}
			n++
			if s, err = w.open(t, n); err != nil {
				return err
			}
		}
		if err := s.add(cells); err != nil {
			return err
		}
	}
	return s.close()
}

// sheet is one sheet of a table while it is written.
type sheet struct {
	*writer
	name string
	// part is its place in the archive of the workbook.
	part    string
	stream  *excelize.StreamWriter
	columns []export.Column
	at      []int
	printed int
	rows    int
	ruled   bool
}

// open makes a sheet with its headings. The order of the calls is excelize's: page
// and widths before the first row, filter at the end.
func (w *writer) open(t export.Table, n int) (*sheet, error) {
	s := &sheet{writer: w, name: sheetName(t, n), columns: t.Columns, ruled: slices.ContainsFunc(t.Columns, func(c export.Column) bool { return c.Pen })}
	s.at, s.printed = arranged(t.Columns)
	index, err := w.file.NewSheet(s.name)
	if err != nil {
		return nil, err
	}
	s.part = partOfSheet(index)
	w.alone = excelize.NewFile(excelize.Options{TmpDir: w.dir})
	if _, err := w.alone.NewSheet(s.name); err != nil {
		return nil, err
	}
	if err := w.pageSetup(w.alone, s.name); err != nil {
		return nil, err
	}
	if s.stream, err = w.alone.NewStreamWriter(s.name); err != nil {
		return nil, err
	}
	for i, at := range s.at {
		if err := s.stream.SetColWidth(i+1, i+1, s.columns[at].Width); err != nil {
			return nil, err
		}
	}
	if err := s.freeze(); err != nil {
		return nil, err
	}
	if err := s.headings(); err != nil {
		return nil, err
	}
	w.feed = newFeed(s.stream, len(s.at), s.headerRow()+1)
	return s, nil
}

// Leading columns stay in view when they are narrow: at most mostFrozen, none
// wider than widestFrozen.
const (
	mostFrozen   = 3
	widestFrozen = 20
)

func (s *sheet) freeze() error {
	columns := 0
	for columns < mostFrozen && columns < len(s.at) && s.columns[s.at[columns]].Width <= widestFrozen {
		columns++
	}
	corner, err := excelize.CoordinatesToCellName(columns+1, s.headerRow()+1)
	if err != nil {
		return err
	}
	panes := &excelize.Panes{Freeze: true, XSplit: columns, YSplit: s.headerRow(), TopLeftCell: corner, ActivePane: "bottomRight"}
	if columns == 0 {
		panes.ActivePane = "bottomLeft"
	}
	return s.stream.SetPanes(panes)
}

// filterButton is the width that the filter's button takes of a heading.
const filterButton = 3

func (s *sheet) headings() error {
	if s.full() {
		if err := s.banner(); err != nil {
			return err
		}
	}
	lines, values := 1, make([]any, len(s.at))
	for i, at := range s.at {
		c := s.columns[at]
		style, err := s.styles.id(look{role: header, right: !leftAligned(c.Kind), indent: leftAligned(c.Kind)})
		if err != nil {
			return err
		}
		values[i] = excelize.Cell{StyleID: style, Value: c.Heading}
		lines = max(lines, linesOf(c.Heading, c.Width-filterButton))
	}
	return s.stream.SetRow(cellName(1, s.headerRow()), values, excelize.RowOpts{Height: rowHeight(lines)})
}

func (s *sheet) banner() error {
	style, err := s.styles.id(look{role: banner})
	if err != nil {
		return err
	}
	cells := make([]any, s.printed)
	for i := range cells {
		cells[i] = excelize.Cell{StyleID: style}
	}
	cells[0] = excelize.Cell{StyleID: style, Value: bannerText}
	return s.stream.SetRow("A1", cells)
}

func (s *sheet) add(cells []export.Cell) error {
	if s.rows%1024 == 0 {
		if err := s.ctx.Err(); err != nil {
			return err
		}
	}
	lines := s.lines(cells)
	made, values := s.feed.row()
	for i, at := range s.at {
		cell, shown, err := s.cell(s.columns[at], cells[at], lines > 1)
		if err != nil {
			return err
		}
		values[i] = nil
		if shown {
			made[i], values[i] = cell, &made[i]
		}
	}
	s.rows++
	if lines == 1 {
		return s.feed.done(0)
	}
	return s.feed.done(rowHeight(lines))
}

// penLines is how many lines a hand needs.
const penLines = 3

// lines is how many lines the tallest cell of a row takes. What stands beside the
// printed columns is cut to the row: long references would tear the list apart.
func (s *sheet) lines(cells []export.Cell) int {
	lines := 1
	for i, c := range s.columns {
		if c.Wrap && c.Place.Printed() && cells[i].Kind == export.Text {
			lines = max(lines, linesOf(c.Shown(cells[i]).Text, c.Width-1)) // 1 for the indent
		}
		if c.Pen {
			lines = max(lines, penLines)
		}
	}
	return lines
}

// close sets the filter and what is printed, and hands the sheet to the archive.
func (s *sheet) close() error {
	if err := s.feed.end(); err != nil {
		return err
	}
	last := s.headerRow() + s.rows
	filter := cellName(1, s.headerRow()) + ":" + cellName(len(s.at), last)
	for _, file := range []*excelize.File{s.alone, s.file} { // the sheet says it, and the workbook's names
		if err := file.AutoFilter(s.name, filter, nil); err != nil {
			return err
		}
	}
	if err := s.stream.Flush(); err != nil {
		return err
	}
	if err := s.pack(s.part); err != nil {
		return err
	}
	if err := s.define("_xlnm.Print_Titles", fmt.Sprintf("$%d:$%d", 1, s.headerRow())); err != nil {
		return err
	}
	corner, err := excelize.CoordinatesToCellName(s.printed, last, true)
	if err != nil {
		return err
	}
	return s.define("_xlnm.Print_Area", "$A$1:"+corner)
}

func (s *sheet) define(name, ref string) error {
	return s.file.SetDefinedName(&excelize.DefinedName{Name: name, RefersTo: "'" + s.name + "'!" + ref, Scope: s.name})
}

// cellName names a cell; columns and rows of ours are within the format's limits.
func cellName(column, row int) string {
	name, _ := excelize.CoordinatesToCellName(column, row)
	return name
}
