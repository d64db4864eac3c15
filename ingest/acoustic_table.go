package ingest

import (
	"bytes"
	_ "embed"
	"io"
	"math"
	"regexp"
	"slices"
	"strings"
)

// BuiltinLimits is the name of the table of acoustic limits that comes with the program.
const BuiltinLimits = "builtin"

// acousticCSV holds recommendations for newborns that were seen in print, and steps
// from memory that say so (shared/reference/measurements.md 5, check-values.md 5); the
// longer ladders for adults and for newborns other than head and spine are left out,
// because they could not be confirmed.
//
//go:embed acoustic_limits.csv
var acousticCSV []byte

var acousticColumns = []tableColumn{
	{"index", true}, {"exam", true}, {"words", true}, {"above", true}, {"minutes", false}, {"seen", false}, {"source", true},
}

// ReadAcousticLimits reads a table of acoustic limits: the one that comes with the
// program by its name, else a file of comma-separated values in UTF-8 with a header
// row. On any fault no rows are returned, and the error joins a TableError for each.
func ReadAcousticLimits(nameOrPath string) ([]AcousticLimit, error) {
	if nameOrPath == BuiltinLimits {
		return readAcousticLimits(nameOrPath, bytes.NewReader(acousticCSV))
	}
	f, err := openTable(nameOrPath)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return readAcousticLimits(nameOrPath, f)
}

func readAcousticLimits(name string, r io.Reader) ([]AcousticLimit, error) {
	var rows []AcousticLimit
	words := map[string][]string{}
	err := readTable(name, r, acousticColumns, nil, func(c cells) {
		row := c.acousticLimit()
		if len(row.Words) == 0 {
			if row.Words = words[row.Exam]; len(row.Words) == 0 {
				c.fail("words", "words of headers that tell the exam, such as: lung; chest; thora*, in the first row of each exam")
			}
		} else if words[row.Exam] = append(words[row.Exam], row.Words...); len(words[row.Exam]) > len(row.Words) {
			c.fail("words", "nothing, as an earlier row of the exam gives them")
		}
		rows = append(rows, row)
	})
	if err != nil {
		return nil, err
	}
	return rows, nil
}

var examWord = regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`)

func (c cells) acousticLimit() AcousticLimit {
	row := AcousticLimit{
		Index: AcousticIndex(c.oneWord("index", []string{"MI", "TIS", "TIB", "TIC", "TI"}, "")),
		Exam:  c.get("exam"), Words: c.parts("words"), Above: c.positive("above"), Minutes: c.limit("minutes"),
		Seen:   c.oneWord("seen", []string{"seen", "from memory", "local"}, "local"),
		Source: c.filled("source", "where the limit was printed, or whose it is"),
	}
	if !examWord.MatchString(row.Exam) {
		c.fail("exam", "a word of lower-case letters, digits and hyphens")
	}
	if row.Minutes.Set && row.Minutes.Value < 0 {
		c.fail("minutes", "a number from 0, or nothing")
	}
	return row
}

// oneWord is one of words; absent where the cell is empty and that is allowed.
func (c cells) oneWord(column string, words []string, absent string) string {
	text := c.get(column)
	if text == "" && absent != "" {
		return absent
	}
	if !slices.Contains(words, text) {
		c.fail(column, oneOf(words, text))
	}
	return text
}

// parts are the texts of a cell between semicolons.
func (c cells) parts(column string) []string {
	var out []string
	for _, word := range strings.Split(c.get(column), ";") {
		if word = strings.TrimSpace(word); word != "" {
			out = append(out, word)
		}
	}
	return out
}

func (c cells) positive(column string) float64 {
	v, ok := number(c.get(column))
	if !ok || math.IsInf(v, 0) || v <= 0 {
		c.fail(column, "a number above 0 with a decimal point")
	}
	return v
}
