package workbook

import (
	"fmt"
	"math"
	"slices"

	"github.com/xuri/excelize/v2"

	"leadline/export"
)

// grid are the widths of the columns of a page of sections: a name, three
// numbers, and text. The last column of a line reaches to the edge.
var grid = []float64{50, 11, 11, 11, 74}

// page writes sections below each other.
func (w *writer) page(name string, sections []export.Section) error {
	if err := w.pageSetup(w.file, name); err != nil {
		return err
	}
	hidden := false
	if err := w.file.SetSheetView(name, 0, &excelize.ViewOptions{ShowGridLines: &hidden}); err != nil {
		return err
	}
	stream, err := w.file.NewStreamWriter(name)
	if err != nil {
		return err
	}
	for i, width := range grid {
		if err := stream.SetColWidth(i+1, i+1, width); err != nil {
			return err
		}
	}
	p := &page{writer: w, name: name, stream: stream}
	for i, s := range sections {
		p.breakBefore(s)
		p.section(s, i == 0)
	}
	if p.err != nil {
		return p.err
	}
	return stream.Flush()
}

// page is a sheet of sections while it is written; the first error stays.
type page struct {
	*writer
	name   string
	stream *excelize.StreamWriter
	row    int
	// used is the height in points that stands on the paper page at hand; a page
	// without a stream only adds it up.
	used float64
	err  error
}

// paperHeight is what a paper page holds of a page of sections, in points: A4 between
// the margins, at the scale that makes the columns fit its width (a character is 7
// pixels wide, a column 5 more, a pixel ¾ point). In wider fonts it holds more.
var paperHeight = (paperShort - 2*marginTop) * (7*sum(grid) + 5*float64(len(grid))) * 0.75 / (paperLong - 2*marginSide)

// breakBefore begins a paper page where a section would be torn apart. What is longer
// than half a page may be, but not after its first lines.
func (p *page) breakBefore(s export.Section) {
	measure := &page{writer: p.writer, name: p.name, row: p.row}
	measure.section(s, p.row == 0)
	p.keep(measure.err)
	if p.row > 0 && p.used+min(measure.used, paperHeight/2) > paperHeight {
		p.keep(p.stream.InsertPageBreak(cellName(1, p.row+1)))
		p.used = 0
	}
	p.used = math.Mod(p.used+measure.used, paperHeight)
}

func (p *page) section(s export.Section, first bool) {
	if first && p.name == overviewSheet {
		p.spanning(s.Title, look{role: title}, 26)
	} else {
		if p.row > 0 {
			p.put(nil, 6)
		}
		p.spanning(s.Title, look{role: section}, 20)
	}
	if first && p.full() {
		p.spanning(bannerText, look{role: banner}, rowHeight(1))
	}
	for _, text := range s.Paragraphs {
		p.spanning(text, look{role: prose}, rowHeight(linesOf(text, sum(grid))))
	}
	if len(s.Columns) > 0 {
		p.line(headings(s.Columns))
	}
	for _, l := range s.Lines {
		p.line(l)
	}
	if s.Contents {
		p.contents()
	}
}

// spanning writes a text over the whole width.
func (p *page) spanning(text string, l look, height float64) {
	cells := p.filled(l)
	cells[0] = p.styled(text, l)
	p.put(cells, height)
	p.merge(1)
}

// filled is a row of empty cells of one look.
func (p *page) filled(l look) []any {
	cells := make([]any, len(grid))
	for i := range cells {
		cells[i] = p.styled(nil, l)
	}
	return cells
}

// line writes one line of a small table.
func (p *page) line(l export.Line) {
	if len(l.Cells) == 0 {
		p.put(nil, 4)
		return
	}
	if !p.hasSheet(l.Table) {
		l.Table = ""
	}
	cells := make([]any, len(grid))
	if l.Heading {
		cells = p.filled(look{role: subheader})
	}
	last, lines := len(l.Cells)-1, 1
	for i, c := range l.Cells {
		if c.Kind == export.Absent {
			continue
		}
		style := lineLook(l, i)
		if style.wrap {
			lines = linesOf(c.Text, sum(grid[i:]))
		}
		cells[i] = p.styled(content(c), style)
	}
	p.put(cells, rowHeight(lines))
	if last > 1 {
		p.merge(last + 1)
	}
	switch {
	case l.Table != "":
		p.link(l.Table, l.Row)
	case l.Sheet != "":
		p.linkTo(l.Sheet, 1)
	}
}

// headings is the line above a small table.
func headings(columns []export.Column) export.Line {
	l := export.Line{Heading: true}
	for _, c := range columns {
		l.Cells = append(l.Cells, export.Cell{Kind: export.Text, Text: c.Heading})
	}
	return l
}

// lineLook is the look of cell i of a line: the first and the last are text, those
// between are numbers or short words, and so are aligned at the right.
func lineLook(l export.Line, i int) look {
	c, last := l.Cells[i], len(l.Cells)-1
	style := look{format: format(export.Column{}, c), right: i > 0 && i < max(last, 2), indent: i > 0 && i == last && i > 1}
	if i < len(l.Levels) {
		style.level = l.Levels[i]
	}
	switch {
	case l.Heading:
		style.role = subheader
	case i == 0 && l.Table+l.Sheet != "":
		style.role = link
	default:
		style.wrap = style.indent
	}
	return style
}

// contents lists the sheets.
func (p *page) contents() {
	if m := p.book.Meeting; m != nil {
		p.line(export.Line{Sheet: m.Title, Cells: []export.Cell{{Kind: export.Text, Text: m.Title}, {Kind: export.Integer, Number: float64(min(len(m.Charts), m.Most))}, {Kind: export.Text, Text: "Charts for a meeting, with what they say."}}})
	}
	for _, t := range p.tables() {
		about := t.About
		if n := p.sheetsOf(t); n > 1 {
			about += fmt.Sprintf(" Continued up to the sheet %q: a sheet holds no more rows. The CSV holds all in one.", sheetName(t, n))
		}
		p.line(export.Line{Table: t.Name, Cells: []export.Cell{
			{Kind: export.Text, Text: t.Title}, {Kind: export.Integer, Number: float64(t.Len)}, {Kind: export.Text, Text: about}}})
	}
	p.empty()
	p.line(export.Line{Sheet: methodSheet, Cells: []export.Cell{
		{Kind: export.Text, Text: methodSheet}, {}, {Kind: export.Text, Text: "The rules in plain words, with their sources."}}})
}

// empty names the tables that have no row, and so no sheet.
func (p *page) empty() {
	for _, t := range p.ordered() {
		if t.Len == 0 {
			p.line(export.Line{Cells: []export.Cell{
				{Kind: export.Text, Text: t.Title}, {Kind: export.Integer}, {Kind: export.Text, Text: "No sheet: there is nothing to list. " + t.About}}})
		}
	}
}

// hasSheet tells whether a table has a sheet to lead to.
func (p *page) hasSheet(table string) bool {
	return slices.ContainsFunc(p.tables(), func(t export.Table) bool { return t.Name == table })
}

// link leads from the first cell of the row to a table, or to a row of it.
func (p *page) link(table string, row int) {
	for _, t := range p.tables() {
		if t.Name != table {
			continue
		}
		n, at := 1, p.headerRow()
		if row > 0 {
			n, at = 1+(row-1)/p.capacity(), p.headerRow()+1+(row-1)%p.capacity()
		}
		p.linkTo(sheetName(t, n), at)
	}
}

// linkTo leads from the first cell of the row to a row of a sheet.
func (p *page) linkTo(sheet string, row int) {
	if p.stream == nil {
		return
	}
	p.keep(p.file.SetCellHyperLink(p.name, cellName(1, p.row), fmt.Sprintf("'%s'!A%d", sheet, row), "Location"))
}

func (p *page) styled(value any, l look) excelize.Cell {
	id, err := p.styles.id(l)
	p.keep(err)
	return excelize.Cell{StyleID: id, Value: value}
}

func (p *page) put(cells []any, height float64) {
	p.row++
	if p.stream == nil {
		p.used += height
		return
	}
	p.keep(p.stream.SetRow(cellName(1, p.row), cells, excelize.RowOpts{Height: height}))
}

// merge joins the cells of the row from a column to the edge.
func (p *page) merge(from int) {
	if p.stream != nil && from < len(grid) {
		p.keep(p.stream.MergeCell(cellName(from, p.row), cellName(len(grid), p.row)))
	}
}

func (p *page) keep(err error) {
	if p.err == nil {
		p.err = err
	}
}

func sum(widths []float64) float64 {
	total := 0.0
	for _, w := range widths {
		total += w
	}
	return total
}
