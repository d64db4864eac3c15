package export

// Section is a piece of the overview or of the method: a title, paragraphs, and a
// small table.
type Section struct {
	Title      string
	Paragraphs []string
	// Columns have headings only; the last one may hold long text.
	Columns []Column
	Lines   []Line
	// Contents asks for the list of all tables after the paragraphs.
	Contents bool
}

// Line is one line of a section.
type Line struct {
	Cells []Cell
	// Levels say which cells ask for the eye; it may be shorter than Cells.
	Levels []Level
	// Table, where set, is the name of the table the line leads to, and Row the
	// row in it from 1, 0 for its head.
	Table string
	Row   int
	// Sheet, where set, is the name of another sheet the line leads to.
	Sheet string
	// Heading tells that the line holds headings.
	Heading bool
}

func headings(names ...string) []Column {
	columns := make([]Column, len(names))
	for i, name := range names {
		columns[i].Heading = name
	}
	return columns
}

func line(cells ...Cell) Line { return Line{Cells: cells} }

func (l Line) to(table string, row int) Line {
	l.Table, l.Row = table, row
	return l
}

func (l Line) marked(levels ...Level) Line {
	l.Levels = levels
	return l
}
