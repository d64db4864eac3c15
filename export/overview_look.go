package export

import (
	"fmt"
	"strings"

	"leadline/analyse"
	"leadline/analyse/overview"
)

// mostShortfalls is how many protocol items the overview lists; the sheet
// Completeness holds all.
const mostShortfalls = 12

func complete(o overview.Overview, r *analyse.Result) Section {
	s := Section{Title: "What is complete", Columns: headings("Protocol", "Studies", "Complete", "Share", "Name for --protocol")}
	if len(r.Protocols) == 0 {
		s.Paragraphs = []string{"No protocol was asked for."}
		s.Columns = nil
		return s
	}
	for _, p := range r.Protocols {
		hidden := r.Month.Suppresses(p.Name, analyse.CompleteStudies, "")
		s.Lines = append(s.Lines, line(text(p.Title), unless(hidden, count(p.Applied)), unless(hidden, count(p.Complete)), unless(hidden, shareOf(p.Complete, p.Applied)), text(p.Name)).to("completeness", 0))
	}
	if len(o.Shortfalls) == 0 {
		return s
	}
	s.Lines = append(s.Lines, Line{}, heads("Most often lacking", "Missing", "Partial", "Asked of", "Protocol"))
	for _, f := range o.Shortfalls[:min(len(o.Shortfalls), mostShortfalls)] {
		title := f.Title
		if title == "" {
			title = f.Item
		}
		s.Lines = append(s.Lines, line(text(title), unless(f.Hidden, count(f.Missing)), unless(f.Hidden, count(f.Partial)), unless(f.Hidden, count(f.Applied)), text(r.ProtocolTitle(f.Protocol))).
			marked(Plain, alarmIf(f.Missing), cautionIf(f.Partial)).to("completeness", 0))
	}
	if more := len(o.Shortfalls) - mostShortfalls; more > 0 {
		s.Lines = append(s.Lines, line(text(fmt.Sprintf("and %s more in the sheet Completeness", counted(more, "item", "items")))))
	}
	return s
}

// heads is a second row of headings within a section.
func heads(names ...string) Line {
	l := Line{Heading: true}
	for _, name := range names {
		l.Cells = append(l.Cells, text(name))
	}
	return l
}

func shareOf(part, whole int) Cell {
	if whole == 0 {
		return Cell{}
	}
	return Cell{Kind: Share, Number: float64(part) / float64(whole)}
}

// mostFindings is how many kinds of finding the overview lists, so that they stand on
// its first page; the sheet Findings holds all.
const mostFindings = 10

func lookFirst(o overview.Overview) Section {
	s := Section{Title: "What to look at first", Columns: headings("Finding", "Severity", "Times", "Studies", "What to do")}
	if len(o.Findings) == 0 {
		return Section{Title: s.Title, Paragraphs: []string{"Nothing was found that needs a look."}}
	}
	for _, f := range o.Findings[:min(len(o.Findings), mostFindings)] {
		severity := levels[string(f.Severity)]
		s.Lines = append(s.Lines, line(text(capital(f.Title)), text(string(f.Severity)), unless(f.Hidden, count(f.Count)), unless(f.Hidden, count(f.Studies)), text(f.Advice)).
			marked(Plain, severity).to("findings", 0))
	}
	if more := len(o.Findings) - mostFindings; more > 0 {
		s.Lines = append(s.Lines, line(text(fmt.Sprintf("and %s in the sheet Findings", counted(more, "more kind", "more kinds")))))
	}
	return s
}

// capital begins a title with a capital letter.
func capital(title string) string {
	if title == "" {
		return ""
	}
	return strings.ToUpper(title[:1]) + title[1:]
}

// worst lists the studies with most errors, each leading to its row.
func (w *writer) worst(o overview.Overview) Section {
	s := Section{Title: "Studies with most errors", Columns: headings("Study", "Errors", "Warnings", "Differ", "Date and device")}
	if len(o.Worst) == 0 {
		return Section{Title: s.Title, Paragraphs: []string{"No study has an error."}}
	}
	for _, study := range o.Worst {
		row := w.byUID[study.UID]
		day := guardedDate(w, row)
		s.Lines = append(s.Lines, line(text(fmt.Sprintf("Study %d", row.n)), count(study.Totals.Errors), count(study.Totals.Warnings), count(study.Totals.Differing), text(joined(day, row.devices))).
			marked(Plain, Alarm, cautionIf(study.Totals.Warnings), alarmIf(study.Totals.Differing)).to("studies", row.n))
	}
	return s
}

func guardedDate(w *writer, row *studyRow) string {
	c := studyDate(itself)
	return guarded(w.rules, &c, row.about, row).String()
}

func cautions() Section {
	return Section{Title: "Cautions", Paragraphs: []string{
		"Not for diagnosis or treatment. A person must compare every value that matters with the source images.",
		"Rebuilt values come from archived pixel coordinates. U (k = 2) holds how well a caliper can be placed on pixels and what the calibration says; it does not hold the sonographer's choice of where to measure, speed of sound, or beam angle.",
		"Values without a calibration are not rebuilt: pixels are no lengths. Values marked suspect come from a calibration that contradicts its own image; no statistic uses them.",
		"Missing is not normal, and not evidence that something was not done: it was not found in this archive.",
		"Where limits were printed for a measure or an index, the column Reference says whether the value lies inside them, with population and source. They hold for the population, age and method they were made from; outside is no diagnosis, inside no proof of health. Limits that contradict each other stand side by side.",
		"Counts of studies are not counts of children: several studies may be of one child.",
		"Differences between devices or people may come from probe, preset, software or patient. Judge no person by this table.",
	}}
}
