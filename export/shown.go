package export

import (
	"regexp"
	"strings"

	"leadline/analyse/measures"
	"leadline/analyse/physical"
	"leadline/ingest/protocol"
)

// Wording says how a sheet writes what a table holds as a code. CSV keeps the code.
type Wording int

// The wordings: as it stands; the ids of our lists in words; ids of views by their
// titles; ids of measures in brackets by theirs; unit codes as people write units.
const (
	AsWritten Wording = iota
	InWords
	ViewTitles
	MeasureTitles
	UnitSigns
)

// Shown is what a sheet shows of a cell of the column.
func (c Column) Shown(v Cell) Cell {
	if v.Kind != Text {
		return v
	}
	switch c.Wording {
	case InWords:
		v.Text = Words(v.Text)
	case ViewTitles:
		if title := protocol.ViewTitle(v.Text); title != v.Text {
			v.Text = capital(title)
		}
	case MeasureTitles:
		if !strings.Contains(v.Text, "(") {
			return v // nearly all evidence, and a pattern is slow
		}
		v.Text = inBrackets.ReplaceAllStringFunc(v.Text, func(id string) string {
			return "(" + measures.TitleOf(id[1:len(id)-1]) + ")"
		})
	case UnitSigns:
		return text(physical.Printed(v.Text))
	}
	return v
}

// inBrackets is what may be the id of a measure behind the number of a measurement.
var inBrackets = regexp.MustCompile(`\([a-z0-9-]+\)`)

// spoken are the ids whose words are not those of the id.
var spoken = map[string]string{
	"not-dicom": "not DICOM", "reported-rebuilt": "reported less rebuilt",
	"p": "p-chart", "ewma": "EWMA", "ewma-beyond-limits": "EWMA beyond limits", "icc-2-1": "ICC(2,1)", "icc-3-1": "ICC(3,1)",
	"within-subject-sd": "within-subject SD", "within-subject-cv": "within-subject CV",
	"pixel-spacing": "Pixel Spacing",
}

// Words are the words of an id of ours, such as a verdict, or of a list of them.
func Words(id string) string {
	if first, rest, several := strings.Cut(id, listSeparator); several {
		return Words(first) + listSeparator + Words(rest)
	}
	if w, ok := spoken[id]; ok {
		return w
	}
	if mode := protocol.ModeTitle(id); mode != id {
		return mode
	}
	return strings.ReplaceAll(id, "-", " ")
}
