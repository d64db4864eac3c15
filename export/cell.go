package export

import (
	"math"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"leadline/ingest"
)

// Kind is the type of a column or of a cell.
type Kind int

// The kinds. Share is a number from 0 to 1 that is shown in per cent. Points is
// text of numbers only, which cannot be a formula.
const (
	Absent Kind = iota
	Text
	Integer
	Number
	Share
	Date
	Clock
	Moment
	Flag
	Points
)

// Word names the kind in the codebook.
func (k Kind) Word() string {
	switch k {
	case Integer:
		return "integer"
	case Number, Share:
		return "number"
	case Date:
		return "date"
	case Clock:
		return "time"
	case Moment:
		return "date and time"
	case Flag:
		return "true or false"
	case Points:
		return "points"
	}
	return "text"
}

// Cell is one value of a table. The zero Cell is an absent value.
type Cell struct {
	Kind   Kind
	Text   string
	Number float64
	Time   time.Time
	// Places is how many digits after the point are shown where Rounded is set;
	// the value is always held whole.
	Places  int
	Rounded bool
}

func text(s string) Cell {
	if s == "" {
		return Cell{}
	}
	return Cell{Kind: Text, Text: clean(s)}
}

func integer(v int64) Cell {
	return Cell{Kind: Integer, Number: float64(v), Text: strconv.FormatInt(v, 10)}
}

func count(v int) Cell { return integer(int64(v)) }

// number is absent for what is no number; analyse lets none out.
func number(v float64) Cell {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return Cell{}
	}
	return Cell{Kind: Number, Number: v}
}

func optional(v ingest.Optional[float64]) Cell {
	if !v.Set {
		return Cell{}
	}
	return number(v.Value)
}

// rounded is a number of which so many places are shown.
func rounded(v float64, places int) Cell {
	c := number(v)
	c.Places, c.Rounded = places, true
	return c
}

func flag(v bool) Cell { return Cell{Kind: Flag, Text: strconv.FormatBool(v)} }

func optionalFlag(v ingest.Optional[bool]) Cell {
	if !v.Set {
		return Cell{}
	}
	return flag(v.Value)
}

func date(s ingest.Stamp) Cell {
	if s.IsZero() {
		return Cell{}
	}
	return Cell{Kind: Date, Time: s.Reading()}
}

func clock(s ingest.Stamp) Cell {
	if s.IsZero() || !s.HasTime {
		return Cell{}
	}
	return Cell{Kind: Clock, Time: s.Reading()}
}

// moment is a date where the time is not known.
func moment(s ingest.Stamp) Cell {
	c := date(s)
	if !s.IsZero() && s.HasTime {
		c.Kind = Moment
	}
	return c
}

// String writes the cell as CSV does: `.` as decimal sign, ISO 8601, empty for
// absent.
func (c Cell) String() string {
	switch c.Kind {
	case Number, Share:
		if c.Text != "" {
			return c.Text
		}
		return shortest(c.Number)
	case Date:
		return c.Time.Format("2006-01-02")
	case Clock:
		return c.Time.Format("15:04:05")
	case Moment:
		return c.Time.Format("2006-01-02T15:04:05")
	}
	return c.Text
}

// shortest writes the shortest decimal that reads back as the same float64,
// without an exponent for numbers of a size that people write out.
func shortest(v float64) string {
	if v == 0 {
		return "0" // never "-0"
	}
	if a := math.Abs(v); a < 1e-6 || a >= 1e15 {
		return strconv.FormatFloat(v, 'e', -1, 64)
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

// clean replaces what neither XML nor a spreadsheet can hold, or what steers a
// terminal: invalid UTF-8 and control characters other than tab and newline.
func clean(s string) string {
	if plain(s) {
		return s
	}
	s = strings.ReplaceAll(strings.ToValidUTF8(s, "\uFFFD"), "\r\n", "\n")
	return strings.Map(func(c rune) rune {
		switch {
		case c == '\r':
			return '\n'
		case c == '\t' || c == '\n':
			return c
		case unicode.IsControl(c) || c == 0xFFFE || c == 0xFFFF:
			return utf8.RuneError
		}
		return c
	}, s)
}

func plain(s string) bool {
	for i := 0; i < len(s); i++ {
		if s[i] < 0x20 || s[i] >= 0x7f {
			return false
		}
	}
	return true
}
