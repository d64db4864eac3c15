package views

import (
	"fmt"
	"slices"
	"strings"

	"leadline/analyse"
	"leadline/ingest"
	"leadline/ingest/protocol"
)

// labelling is one image while its labels are read. The first row that tells the
// view, the first that tells the modes, and the first that tells the exam decide.
type labelling struct {
	image *analyse.Image
	// header is the picture before any label.
	header            *analyse.Picture
	view, modes, exam *ingest.LabelRow
	conflicts         []string
}

func (l *labelling) take(row *ingest.LabelRow) {
	if row.View != "" {
		l.takeView(row)
	}
	if len(row.Modes) > 0 {
		l.takeModes(row)
	}
	if row.Exam != "" {
		l.takeExam(row)
	}
	if row.Note != "" {
		p := own(l.image)
		p.LabelNote = strings.TrimPrefix(p.LabelNote+"; "+row.Note, "; ")
	}
	if len(l.conflicts) > 0 {
		own(l.image).LabelConflict = strings.Join(l.conflicts, "; ")
	}
}

func (l *labelling) takeView(row *ingest.LabelRow) {
	if l.view != nil {
		if l.view.View != row.View || l.view.Side != row.Side {
			l.differ(row, fmt.Sprintf("says %s, row %d of labels %s says %s, which stands", words(row.View, row.Side), l.view.Line, l.view.Table, words(l.view.View, l.view.Side)))
		}
		return
	}
	l.view = row
	side := l.image.Side()
	narrower, ok := protocol.Narrower(l.header.ViewID, row.View)
	otherSide := side != "" && row.Side != "" && side != row.Side
	if !ok || otherSide {
		l.differ(row, fmt.Sprintf("says %s, the %s says %s; the label stands", words(row.View, row.Side), l.source(), words(l.header.ViewID, side)))
		narrower = row.View
	}
	if narrower == l.header.ViewID && !otherSide && (row.Side == "" || side == row.Side) {
		return // the header says as much
	}
	p := own(l.image)
	if row.Side != "" {
		p.ViewSide = row.Side
	}
	p.ViewID, p.ViewSource, p.ViewFrom = narrower, analyse.ViewOfLabel, placeOf(row)
	p.View = words(narrower, p.ViewSide)
}

// source is where the view was learned that a label contradicts.
func (l *labelling) source() analyse.ViewSource {
	if l.header.ViewSource == "" {
		return analyse.ViewOfHeader // its laterality
	}
	return l.header.ViewSource
}

func (l *labelling) takeModes(row *ingest.LabelRow) {
	if l.modes != nil {
		if !slices.Equal(l.modes.Modes, row.Modes) {
			l.differ(row, fmt.Sprintf("says %s, row %d of labels %s says %s, which stands", list(row.Modes), l.modes.Line, l.modes.Table, list(l.modes.Modes)))
		}
		return
	}
	l.modes = row
	has := func(mode string) bool { return slices.Contains(l.header.Modes, mode) }
	if !slices.ContainsFunc(row.Modes, func(mode string) bool { return !has(mode) }) {
		return // the header says as much
	}
	if len(l.header.Modes) > 0 {
		l.differ(row, fmt.Sprintf("says %s, the header says %s; the label stands", list(row.Modes), list(l.header.Modes)))
	}
	p := own(l.image)
	p.Modes, p.ModesFrom = row.Modes, placeOf(row)
}

// takeExam keeps the words of the first row; a conflict names none of them, for a
// person typed them.
func (l *labelling) takeExam(row *ingest.LabelRow) {
	if l.exam != nil {
		if l.exam.Exam != row.Exam {
			l.differ(row, fmt.Sprintf("gives another exam than row %d of labels %s, which stands", l.exam.Line, l.exam.Table))
		}
		return
	}
	l.exam = row
	own(l.image).Exam = row.Exam
}

func (l *labelling) differ(row *ingest.LabelRow, how string) {
	l.conflicts = append(l.conflicts, placeOf(row)+" "+how)
}

func list(modes []string) string { return strings.Join(modes, " and ") }
