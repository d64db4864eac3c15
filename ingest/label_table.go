package ingest

import (
	"io"
	"slices"
	"strings"

	"leadline/ingest/dcm"
	"leadline/ingest/protocol"
	"leadline/ingest/terms"
)

// LabelRow is one row of a study table: what a person says that one image shows.
// SOPUID or Path names the image. Note is free text and may hold patient data. Table is
// the path of the table, or what the output is to call it instead.
type LabelRow struct {
	Table        string
	Line         int
	SOPUID, Path string
	// View is an id of the vocabulary of views, Side left or right where the word
	// for the view tells it; Modes are words of ImageModes; Exam is the exam in the
	// words of the table, as the header's Protocol Name would be. Empty is not told.
	View, Side string
	Modes      []string
	Exam, Note string
}

// ImageModes are the words for the modes of an image, in the order in which they
// are listed.
var ImageModes = []string{"2d", "m-mode", "cw", "pw", "colour", "colour-m-mode", "3d", "power", "tissue"}

// labelColumns are the words of the header row; sop_uid or path or both must be
// there too.
var labelColumns = []tableColumn{
	{"sop_uid", false}, {"path", false}, {"view", false}, {"mode", false}, {"exam", false}, {"note", false},
}

// ReadLabels reads a study table: comma-separated values in UTF-8 with a header row
// (sop_uid or path, view, mode, exam, note, in any order; all but the first may be
// missing). A view is an id, a name or a code ("SCT 399214001") of the vocabulary
// of protocols, whole; a mode is one of ImageModes, several separated by blanks or
// semicolons. Cells may be empty. On any fault no rows are returned, and the error
// joins a TableError for each, at most 20 and then how many more.
func ReadLabels(path string) ([]LabelRow, error) {
	f, err := openTable(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return readLabels(path, f)
}

// readLabels reads the table from r; name is what errors and rows call it.
func readLabels(name string, r io.Reader) ([]LabelRow, error) {
	var rows []LabelRow
	err := readTable(name, r, labelColumns, needImage, func(c cells) { rows = append(rows, c.label()) })
	if err != nil {
		return nil, err
	}
	return rows, nil
}

func (c cells) label() LabelRow {
	row := LabelRow{Table: c.table.name, Line: c.line, Exam: c.get("exam"), Note: c.get("note")}
	row.SOPUID, row.Path = c.image()
	row.View, row.Side = c.view()
	row.Modes = c.modes()
	return row
}

// view reads a view by id, name or code.
func (c cells) view() (id, side string) {
	text := c.get("view")
	if text == "" {
		return "", ""
	}
	var code dcm.Code
	if scheme, value, ok := strings.Cut(text, " "); ok {
		code = dcm.Code{Scheme: scheme, Value: strings.TrimSpace(value)}
	}
	view, side, ok := protocol.ViewOf(code, text)
	if !ok {
		expected := "a view by a word that `leadline protocols words` lists, such as apical-four-chamber or A4C"
		if near := terms.Nearest(text, protocol.ViewWords()); near != "" {
			expected += ", perhaps " + near
		}
		c.fail("view", expected)
	}
	return view.ID, side
}

// modes reads one mode or several, each once, in the order of ImageModes.
func (c cells) modes() []string {
	var modes []string
	for _, word := range strings.FieldsFunc(strings.ToLower(c.get("mode")), func(r rune) bool { return strings.ContainsRune("; \t\u00a0", r) }) {
		if !slices.Contains(ImageModes, word) {
			c.fail("mode", oneOf(ImageModes, word))
			return nil
		}
		modes = append(modes, word)
	}
	var ordered []string
	for _, word := range ImageModes {
		if slices.Contains(modes, word) {
			ordered = append(ordered, word)
		}
	}
	return ordered
}
