package export

import (
	"strings"

	"leadline/analyse/physical"
)

// Wording says how a sheet writes what a table holds as a code. CSV keeps the code.
type Wording int

// The wordings: as it stands; the ids of one of our lists in words; unit codes as
// people write units.
const (
	AsWritten Wording = iota
	InWords
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
	case UnitSigns:
		return text(physical.Printed(v.Text))
	}
	return v
}

// spoken are the ids whose words are not those of the id.
var spoken = map[string]string{
	"not-dicom": "not DICOM", "reported-rebuilt": "reported less rebuilt",
	"p": "p-chart", "ewma": "EWMA", "icc-2-1": "ICC(2,1)", "icc-3-1": "ICC(3,1)",
	"within-subject-sd": "within-subject SD", "within-subject-cv": "within-subject CV",
	"pixel-spacing": "Pixel Spacing",
}

// Words are the words of an id of ours, such as a verdict.
func Words(id string) string {
	if w, ok := spoken[id]; ok {
		return w
	}
	return strings.ReplaceAll(id, "-", " ")
}
