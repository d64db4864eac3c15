package export

import (
	"fmt"
	"strings"

	"leadline/analyse"
)

// namedShares is how many devices a line about acoustic output names.
const namedShares = 3

// acousticFirst says what lies above a recommended limit, and by whom; no section where
// nothing was held against limits.
func (w *writer) acousticFirst(c *analyse.Calibration) []Section {
	const title = "Acoustic output"
	switch {
	case len(c.Acoustic) == 0:
		return nil
	case len(c.AcousticTotals) == 0:
		return []Section{{Title: title, Paragraphs: []string{"No header gives an output index for which a limit is recommended: nothing is known of it."}}}
	}
	s := Section{
		Title:      title,
		Paragraphs: []string{"Images whose header gives an output index above the lowest limit that is recommended for their exam. It says nothing of harm, and of images without the index nothing is known."},
		Columns:    headings("Exam and limit", "Above", "Of how many, and on which devices"),
	}
	for i := range c.AcousticTotals {
		t := &c.AcousticTotals[i]
		s.Lines = append(s.Lines, line(text(fmt.Sprintf("%s: %s above %g", t.Exam, t.Index, t.Limit.Above)), count(t.Above), text(w.shares(t))).
			marked(Plain, cautionIf(t.Above)).to("acoustic", 0))
	}
	return []Section{s}
}

func (w *writer) shares(t *analyse.AcousticTotal) string {
	of := fmt.Sprintf("of %s that give it, the largest %.3g", counted(t.With, "image", "images"), t.Max)
	var named []string
	others := 0
	for _, d := range t.Devices {
		switch {
		case d.Above == 0:
		case len(named) < namedShares:
			named = append(named, fmt.Sprintf("%s %d of %d", w.namedDevice(d.Device), d.Above, d.With))
		default:
			others++
		}
	}
	if others > 0 {
		named = append(named, counted(others, "more device", "more devices"))
	}
	return strings.Join(append([]string{of}, named...), "; ")
}
