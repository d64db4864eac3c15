package workbook

import (
	"fmt"
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
	name    string
	columns []export.Column
	// at is the order of the columns, letters their names and dressed their looks in it.
	at      []int
	letters []string
	dressed []dressed
	printed int
	// to takes the rows; tail is what stands behind them.
	to   *belt
	tail []byte
	rows int
	// last is the last row, filter the range that can be filtered.
	last   int
	filter string
	ruled  bool
}

// open makes a sheet for at most so many rows, with its headings.
func (w *writer) open(t export.Table, n int) (*sheet, error) {
	s := &sheet{writer: w, name: sheetName(t, n), columns: t.Columns, ruled: t.Ruled}
	s.at, s.printed = arranged(t.Columns)
	s.dressed = make([]dressed, len(s.at))
	for i := range s.at {
		name, err := excelize.ColumnNumberToName(i + 1)
		if err != nil {
			return nil, err
		}
		s.letters = append(s.letters, name)
	}
	s.last = s.headerRow() + min(w.capacity(), t.Len-(n-1)*w.capacity())
	s.filter = cellName(1, s.headerRow()) + ":" + cellName(len(s.at), s.last)
	index, err := w.file.NewSheet(s.name)
	if err != nil {
		return nil, err
	}
	head, tail, err := s.frame()
	if err != nil {
		return nil, err
	}
	if s.to, err = w.begin(partOfSheet(index)); err != nil {
		return nil, err
	}
	s.to.piece, s.tail = append(s.to.piece, head...), tail
	return s, nil
}

// frame is the sheet without its data rows, taken apart where they belong. The order
// of the calls is excelize's: page and widths before the first row, filter at the end.
func (s *sheet) frame() (head, tail []byte, err error) {
	file := excelize.NewFile()
	defer file.Close()
	if _, err := file.NewSheet(s.name); err != nil {
		return nil, nil, err
	}
	if err := s.pageSetup(file, s.name); err != nil {
		return nil, nil, err
	}
	stream, err := file.NewStreamWriter(s.name)
	if err != nil {
		return nil, nil, err
	}
	for i, at := range s.at {
		if err := stream.SetColWidth(i+1, i+1, s.columns[at].Width); err != nil {
			return nil, nil, err
		}
	}
	if err := s.freeze(stream); err != nil {
		return nil, nil, err
	}
	if err := s.headings(stream); err != nil {
		return nil, nil, err
	}
	if err := file.AutoFilter(s.name, s.filter, nil); err != nil {
		return nil, nil, err
	}
	if err := stream.Flush(); err != nil {
		return nil, nil, err
	}
	return framed(file)
}

// Leading columns stay in view when they are narrow: at most mostFrozen, none
// wider than widestFrozen.
const (
	mostFrozen   = 3
	widestFrozen = 20
)

func (s *sheet) freeze(stream *excelize.StreamWriter) error {
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
	return stream.SetPanes(panes)
}

// filterButton is the width that the filter's button takes of a heading.
const filterButton = 3

func (s *sheet) headings(stream *excelize.StreamWriter) error {
	if s.full() {
		if err := s.banner(stream); err != nil {
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
	return stream.SetRow(cellName(1, s.headerRow()), values, excelize.RowOpts{Height: rowHeight(lines)})
}

func (s *sheet) banner(stream *excelize.StreamWriter) error {
	style, err := s.styles.id(look{role: banner})
	if err != nil {
		return err
	}
	cells := make([]any, s.printed)
	for i := range cells {
		cells[i] = excelize.Cell{StyleID: style}
	}
	cells[0] = excelize.Cell{StyleID: style, Value: bannerText}
	return stream.SetRow("A1", cells)
}

func (s *sheet) add(cells []export.Cell) error {
	if s.rows%1024 == 0 {
		if err := s.ctx.Err(); err != nil {
			return err
		}
	}
	lines, height := s.lines(cells), 0.0
	if lines > 1 {
		height = rowHeight(lines)
	}
	s.rows++
	b := rowStart(s.to.piece, s.headerRow()+s.rows, height)
	var err error
	for i, at := range s.at {
		if b, err = s.cell(b, i, cells[at], lines > 1); err != nil {
			return err
		}
	}
	s.to.piece = rowEnd(b)
	return s.to.filled()
}

// penLines is how many lines a hand needs.
const penLines = 3

// lines is how many lines the tallest cell of a row takes.
func (s *sheet) lines(cells []export.Cell) int {
	lines := 1
	for i, c := range s.columns {
		if c.Wrap && cells[i].Kind == export.Text {
			lines = max(lines, linesOf(cells[i].Text, c.Width-1)) // 1 for the indent
		}
		if c.Pen {
			lines = max(lines, penLines)
		}
	}
	return lines
}

// close ends the sheet and sets in the workbook what is filtered and what is printed.
func (s *sheet) close() error {
	s.to.piece = append(s.to.piece, s.tail...)
	if err := s.end(); err != nil {
		return err
	}
	if err := s.file.AutoFilter(s.name, s.filter, nil); err != nil { // the sheet says it, and the workbook's names
		return err
	}
	if err := s.define("_xlnm.Print_Titles", fmt.Sprintf("$%d:$%d", 1, s.headerRow())); err != nil {
		return err
	}
	corner, err := excelize.CoordinatesToCellName(s.printed, s.last, true)
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
