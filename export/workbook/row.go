package workbook

import (
	"bytes"
	"encoding/xml"
	"regexp"
	"strconv"
	"strings"
	"time"
)

// Rows are written by ourselves, as excelize writes them: a year has a hundred million
// cells, and its streams take three times as long over each and keep 16 MiB of every
// sheet. The tests hold both to the same bytes.

// rowStart opens a row (ECMA-376 part 1, 18.3.1.73); its height is in points, 0 for
// that of the sheet.
func rowStart(b []byte, row int, height float64) []byte {
	b = append(b, `<row r="`...)
	b = strconv.AppendInt(b, int64(row), 10)
	b = append(b, '"')
	if height > 0 {
		b = append(b, ` ht="`...)
		b = strconv.AppendFloat(b, height, 'f', -1, 64)
		b = append(b, `" customHeight="1"`...)
	}
	return append(b, '>')
}

func rowEnd(b []byte) []byte { return append(b, `</row>`...) }

// place is where a cell stands and how it looks: the letters of its column, its row,
// and the number of its style, from 1; 0 is the style of cells that are not ours.
type place struct {
	column     string
	row, style int
}

// start opens a cell (18.3.1.4); kind is the type that its value is marked with.
func (p place) start(b []byte, kind string) []byte {
	b = append(b, `<c r="`...)
	b = append(b, p.column...)
	b = strconv.AppendInt(b, int64(p.row), 10)
	b = append(b, `" s="`...)
	b = strconv.AppendInt(b, int64(p.style), 10)
	b = append(b, '"')
	return append(append(b, kind...), '>')
}

const cellEnd = `</c>`

// cell writes a cell.
func (p place) cell(b []byte, c content) []byte {
	switch c.kind {
	case whole:
		b = strconv.AppendInt(append(p.start(b, ""), `<v>`...), int64(c.number), 10)
		return append(b, `</v>`+cellEnd...)
	case decimal:
		return p.number(b, c.number)
	case day:
		return p.day(b, c.time)
	case words:
		return p.text(b, c.text)
	}
	return append(p.start(b, ""), cellEnd...) // only its look is shown
}

// digits are the significant digits that spreadsheets hold.
const digits = 15

// number writes a number with at most that many digits; further ones are cut.
func (p place) number(b []byte, v float64) []byte {
	b = append(p.start(b, ""), `<v>`...)
	from := len(b)
	b = strconv.AppendFloat(b, v, 'f', -1, 64)
	b = append(b[:from], significant(b[from:])...)
	return append(b, `</v>`+cellEnd...)
}

// significant cuts a decimal behind its last significant digit that fits; digits
// before the point become 0.
func significant(s []byte) []byte {
	point := bytes.IndexByte(s, '.')
	met := 0
	for i, c := range s {
		if c < '0' || c > '9' || met == 0 && c == '0' {
			continue
		}
		if met++; met <= digits {
			continue
		}
		if point >= 0 && i > point {
			return bytes.TrimSuffix(s[:i], []byte("."))
		}
		if point >= 0 {
			s = s[:point]
		}
		for ; i < len(s); i++ {
			s[i] = '0'
		}
		return s
	}
	return s
}

// firstDay is day 0 of the date system 1900 (ECMA-376 part 1, 18.17.4.1), which
// counts a 29 February 1900 that never was: from leapDay on, days are one more.
var (
	firstDay = time.Date(1899, time.December, 31, 0, 0, 0, 0, time.UTC)
	leapDay  = time.Date(1900, time.March, 1, 0, 0, 0, 0, time.UTC)
)

// day writes a date, or a date with a time, as a number of days; one before the date
// system as text.
func (p place) day(b []byte, t time.Time) []byte {
	if !t.After(firstDay) {
		return p.text(b, t.Format(time.RFC3339Nano))
	}
	seconds := t.Unix() - firstDay.Unix()
	days := float64(seconds/secondsOfDay) + float64(seconds%secondsOfDay)/secondsOfDay
	if !t.Before(leapDay) {
		days++
	}
	b = append(p.start(b, ""), `<v>`...)
	b = strconv.AppendFloat(b, days, 'f', -1, 64)
	return append(b, `</v>`+cellEnd...)
}

// text writes text within the row. Its type says that it is text, so that no
// spreadsheet runs it.
func (p place) text(b []byte, s string) []byte {
	b = append(p.start(b, ` t="inlineStr"`), `<is><t`...)
	if s != "" && (blank(s[0]) || blank(s[len(s)-1])) {
		b = append(b, ` xml:space="preserve"`...)
	}
	return append(escaped(append(b, '>'), s), `</t></is>`+cellEnd...)
}

func blank(c byte) bool { return c == ' ' || c == '\t' || c == '\n' || c == '\r' }

// escape is what a spreadsheet reads as one character: _xHHHH_ (ST_Xstring, 22.9.2.19).
var escape = regexp.MustCompile(`_x[0-9a-fA-F]{4}_`)

// escaped writes text so that XML and the escapes of the format give it back.
func escaped(b []byte, s string) []byte {
	if strings.Contains(s, "_x") {
		s = unescapable(s)
	}
	from := 0
	for i := range len(s) {
		switch c := s[i]; {
		case c < ' ' || c >= 0x7f || c == '"' || c == '\'':
			return odd(append(b, s[from:i]...), s[i:])
		case c == '&':
			b = append(append(b, s[from:i]...), `&amp;`...)
		case c == '<':
			b = append(append(b, s[from:i]...), `&lt;`...)
		case c == '>':
			b = append(append(b, s[from:i]...), `&gt;`...)
		default:
			continue
		}
		from = i + 1
	}
	return append(b, s[from:]...)
}

// odd writes what plain letters are not; a line's end stays as it is.
func odd(b []byte, s string) []byte {
	var out bytes.Buffer
	_ = xml.EscapeText(&out, []byte(s)) // a buffer takes all
	return append(b, bytes.ReplaceAll(out.Bytes(), []byte("&#xA;"), []byte("\n"))...)
}

// unescapable writes the underscore that begins an escape as an escape of its own.
// Two may share an underscore.
func unescapable(s string) string {
	var out strings.Builder
	for {
		at := escape.FindStringIndex(s)
		if at == nil {
			break
		}
		out.WriteString(s[:at[0]] + "_x005F_")
		s = s[at[0]+1:]
	}
	return out.String() + s
}
