package demo

// labelTable is the name of the study table that stands beside the archive,
// labelTruth that of what an audit finds in addition where it is given.
const (
	labelTable = "labels.csv"
	labelTruth = "truth-labels.csv"
)

// labelRow is one row of the study table.
type labelRow struct {
	// of is the image; where it is nil, sop names one that is not there.
	of               *object
	sop              string
	byPath           bool
	view, mode, note string
}

// label adds a row about an image, as a person who looks through the pictures
// writes it: by path, with a note that names the patient.
func (s *study) label(o *object, view, mode string) {
	s.labels = append(s.labels, labelRow{of: o, byPath: len(s.labels)%2 == 0, view: view, mode: mode, note: s.patient.surname + ": " + s.patient.phrase})
}

// cells writes the row once its image has its path.
func (r labelRow) cells() []string {
	sop, path := r.sop, ""
	switch {
	case r.of != nil && r.byPath:
		path = r.of.path
	case r.of != nil:
		sop = r.of.uid
	}
	return []string{sop, path, r.view, r.mode, r.note}
}

func labelsCSV(studies []*study) ([]byte, error) {
	rows := [][]string{{"sop_uid", "path", "view", "mode", "note"}}
	for _, s := range studies {
		rows = append(rows, s.labelCells...)
	}
	return csvBytes(rows)
}
