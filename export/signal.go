package export

import "leadline/analyse"

// Signal says which cells of a column ask for the reader's eye.
type Signal int

// The signals: none, by the word in the cell, by a count above zero, or by any text.
const (
	NoSignal Signal = iota
	ByWord
	AlarmIfAny
	CautionIfAny
	CautionIfText
)

// Level is how much a cell asks for the reader's eye. It is shown as a mild fill,
// always beside the word or number that says the same.
type Level int

// The levels.
const (
	Plain Level = iota
	Muted
	Caution
	Alarm
)

// levels are the words of verdicts, severities, statuses and outcomes.
var levels = map[string]Level{
	"error": Alarm, "differs": Alarm, "missing": Alarm, "conflict": Alarm, "unreadable": Alarm, "false": Alarm, "fail": Alarm,
	"worse": Alarm, "unclear": Muted,
	"contradicts-itself": Alarm, "look-at": Caution, "cannot-be-told": Muted, "step": Alarm, "drift": Alarm, "exchange": Alarm, "not judged": Muted,
	analyse.ActionMisleads.Why(): Alarm, analyse.ActionMissing.Why(): Alarm, analyse.ActionPartial.Why(): Caution,
	analyse.ActionDoubtful.Why(): Caution, analyse.ActionNotAssessable.Why(): Muted,
	"misleads": Alarm, "doubtful": Caution, "look": Caution, "not-determinable": Muted,
	"warning": Caution, "suspect": Caution, "partial": Caution, "not-rebuilt": Caution, "never-tested": Caution, "region (suspect)": Caution,
	"not-assessable": Muted, "not-applicable": Muted, "reported-only": Muted, "note": Muted,
	"duplicate": Muted, "not-dicom": Muted, "other": Muted, "not-measured": Muted, "none": Muted,
}

// Level tells how much a cell of the column asks for the reader's eye.
func (c Column) Level(cell Cell) Level {
	switch {
	case cell.Kind == Absent:
		return Plain
	case c.Signal == ByWord:
		return levels[cell.Text]
	case c.Signal == AlarmIfAny && cell.Number > 0:
		return Alarm
	case c.Signal == CautionIfAny && cell.Number > 0, c.Signal == CautionIfText:
		return Caution
	case c.Signal == CautionIfText:
		return Caution
	}
	return Plain
}
