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

// cell makes a cell of a sheet; one that is not shown is left out. Text is always typed as text,
// whatever it begins with, so that no spreadsheet runs it.
func (s *sheet) cell(c export.Column, v export.Cell, tall bool) (made excelize.Cell, shown bool, err error) {
	switch {
	case c.Pen:
		style, err := s.styles.id(look{role: pen})
		return excelize.Cell{StyleID: style}, true, err
	case v.Kind == export.Absent && !s.ruled:
		return made, false, nil
	case v.Kind == export.Absent:
		style, err := s.styles.id(look{ruled: true})
		return excelize.Cell{StyleID: style}, true, err
	}
	style, err := s.styles.id(look{ruled: s.ruled, tall: tall, format: format(c, v), level: c.Level(v), wrap: c.Wrap && v.Kind == export.Text && (tall || c.Place.Printed()), indent: leftAligned(v.Kind)})
	return excelize.Cell{StyleID: style, Value: content(c.Shown(v))}, true, err
}

// leftAligned tells the kinds that are read as words.
func leftAligned(k export.Kind) bool {
	return k == export.Text || k == export.Flag || k == export.Points
}

// content is the value of a cell in the types of a spreadsheet.
func content(v export.Cell) any {
	switch v.Kind {
	case export.Integer:
		return int64(v.Number)
	case export.Number, export.Share:
		return v.Number
	case export.Date:
		return v.Time.Truncate(24 * time.Hour)
	case export.Moment:
		return v.Time.Truncate(time.Second)
	case export.Clock:
		return v.Time.Sub(v.Time.Truncate(24*time.Hour)).Truncate(time.Second).Seconds() / (24 * time.Hour).Seconds()
	case export.Flag:
		if v.Text == "true" {
			return "yes"
		}
		return "no"
	}
	return cut(v.Text)
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
