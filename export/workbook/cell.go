package workbook

import (
	"time"
	"unicode/utf16"

	"github.com/xuri/excelize/v2"

	"leadline/export"
)

// The limits of the format (ECMA-376 as spreadsheets implement it).
const (
	sheetRows = excelize.TotalRows
	// cellUnits is the most UTF-16 code units of a cell.
	cellUnits = excelize.TotalCellChars
)

// cutMark ends a text that a cell cannot hold whole.
const cutMark = " … (cut; see the CSV)"

// dressed are the looks of the cells of a column, and the number of the last one: rows
// that follow each other mostly look alike.
type dressed struct {
	last look
	id   int
}

// cell writes the cell of a column, one that is not shown not at all. Text is always
// typed as text, whatever it begins with, so that no spreadsheet runs it.
func (s *sheet) cell(b []byte, i int, v export.Cell, tall bool) ([]byte, error) {
	c := &s.columns[s.at[i]]
	if v.Kind == export.Absent && !s.ruled && !c.Pen {
		return b, nil
	}
	var wanted look
	switch {
	case c.Pen:
		wanted.role, v = pen, export.Cell{}
	case v.Kind == export.Absent:
		wanted.ruled = true
	default:
		wanted = look{ruled: s.ruled, tall: tall, format: format(c, v), level: c.Level(v), wrap: c.Wrap && v.Kind == export.Text, indent: leftAligned(v.Kind)}
	}
	if d := &s.dressed[i]; d.id == 0 || d.last != wanted {
		id, err := s.styles.id(wanted)
		if err != nil {
			return b, err
		}
		d.last, d.id = wanted, id
	}
	return place{s.letters[i], s.headerRow() + s.rows, s.dressed[i].id}.cell(b, contentOf(v)), nil
}

// leftAligned tells the kinds that are read as words.
func leftAligned(k export.Kind) bool {
	return k == export.Text || k == export.Flag || k == export.Points
}

// content is a value in the types of a spreadsheet: nil, an integer, a number, a time
// or text, of which kind says which.
type content struct {
	kind   contentKind
	number float64
	time   time.Time
	text   string
}

type contentKind int

const (
	nothing contentKind = iota
	whole
	decimal
	day
	words
)

// secondsOfDay make the day, the unit of time of a spreadsheet.
const secondsOfDay = 24 * 60 * 60

func contentOf(v export.Cell) content {
	switch v.Kind {
	case export.Absent:
		return content{}
	case export.Integer:
		return content{kind: whole, number: v.Number}
	case export.Number, export.Share:
		return content{kind: decimal, number: v.Number}
	case export.Date:
		return content{kind: day, time: v.Time.Truncate(24 * time.Hour)}
	case export.Moment:
		return content{kind: day, time: v.Time.Truncate(time.Second)}
	case export.Clock:
		of := v.Time.Sub(v.Time.Truncate(24 * time.Hour)).Truncate(time.Second)
		return content{kind: decimal, number: of.Seconds() / secondsOfDay}
	case export.Flag:
		if v.Text == "true" {
			return content{kind: words, text: "yes"}
		}
		return content{kind: words, text: "no"}
	}
	return content{kind: words, text: cut(v.Text)}
}

// value is the content as excelize takes it.
func (c content) value() any {
	switch c.kind {
	case whole:
		return int64(c.number)
	case decimal:
		return c.number
	case day:
		return c.time
	case words:
		return c.text
	}
	return nil
}

// cut shortens a text that a cell cannot hold, and marks it.
func cut(s string) string {
	if len(s) <= cellUnits {
		return s
	}
	units := utf16.Encode([]rune(s))
	if len(units) <= cellUnits {
		return s
	}
	keep := cellUnits - len(utf16.Encode([]rune(cutMark)))
	if isHigh(units[keep-1]) {
		keep--
	}
	return string(utf16.Decode(units[:keep])) + cutMark
}

// isHigh tells the first half of a pair, which must not stand alone.
func isHigh(unit uint16) bool { return unit >= 0xD800 && unit < 0xDC00 }
