package export

import (
	"fmt"
	"strings"

	"leadline/analyse"
	"leadline/analyse/overview"
	"leadline/export/deid"
	"leadline/ingest"
)

// overview is what a reader sees first. It says nothing of when the run was: the
// same input gives the same bytes.
func (w *writer) overview(o overview.Overview, version string) []Section {
	return []Section{
		w.heading("Audit of ultrasound studies", version),
		glance(o, len(w.result.Protocols)),
		w.month(),
		lookFirst(o),
		w.worst(o),
		complete(o, w.result),
		differs(o),
		when(o.Times),
		read(o),
		cautions(),
		{Title: "Sheets", Contents: true, Columns: headings("Sheet", "Rows", "What one row is")},
	}
}

func (w *writer) heading(title, version string) Section {
	s := Section{Title: title, Paragraphs: []string{
		"A quality and research tool. Not a medical device, not for diagnosis: local policy and the licensed clinician decide.",
		w.rules.Identity().Meaning(),
	}}
	s.Paragraphs = append(s.Paragraphs, w.extent())
	s.Paragraphs = append(s.Paragraphs, strings.TrimSpace("Leadline "+version))
	return s
}

// extent says what was read and which dates were kept.
func (w *writer) extent() string {
	r := w.result
	if w.rules.Identity() == deid.None {
		return fmt.Sprintf("Read from %s.", counted(len(r.Inputs), "path", "paths"))
	}
	paths := make([]string, len(r.Inputs))
	for i, p := range r.Inputs {
		paths[i] = clean(w.rules.Text(deid.Path, nil, p))
	}
	said := "Read from: " + strings.Join(paths, ", ") + "."
	switch {
	case r.Since != "" && r.Until != "":
		said += fmt.Sprintf(" Studies from %s to %s.", r.Since, r.Until)
	case r.Since != "":
		said += fmt.Sprintf(" Studies from %s on.", r.Since)
	case r.Until != "":
		said += fmt.Sprintf(" Studies until %s.", r.Until)
	}
	if r.LeftOut > 0 {
		said += fmt.Sprintf(" %s of other dates left out.", counted(r.LeftOut, "study", "studies"))
	}
	return said
}

// glance is the whole result in a few lines.
func glance(o overview.Overview, protocols int) Section {
	compared, differing := 0, 0
	for _, v := range o.Verdicts {
		switch v.Verdict {
		case analyse.VerdictAgrees:
			compared += v.Measurements
		case analyse.VerdictDiffers:
			compared, differing = compared+v.Measurements, v.Measurements
		}
	}
	assessed := "no protocol applied to any study"
	switch {
	case o.Hidden:
		assessed = leftOutText
	case o.Assessed > 0:
		assessed = fmt.Sprintf("of %s that a protocol applied to", counted(o.Assessed, "study", "studies"))
		if protocols > 1 {
			assessed += "; complete by each protocol that applied to them"
		}
	}
	return Section{Title: "At a glance", Lines: []Line{
		line(text("Studies read"), count(o.Studies), text(fmt.Sprintf("from %s", counted(o.Files, "file", "files")))).to("studies", 0),
		line(text("Complete studies"), unless(o.Hidden, count(o.Complete)), text(assessed)).to("completeness", 0),
		line(text("Measurements that differ"), count(differing), text(fmt.Sprintf("of %d with a reported and a rebuilt value", compared))).
			marked(Plain, alarmIf(differing)).to("measurements", 0),
		line(text("Things to do"), count(o.Actions), text("the list for a meeting, what to mend first at the top")).to("actions", 0),
		line(text("Errors"), count(o.Errors), text("values or files that cannot be relied on")).marked(Plain, alarmIf(o.Errors)).to("findings", 0),
		line(text("Warnings"), count(o.Warnings), text("look before relying on the values they name")).marked(Plain, cautionIf(o.Warnings)).to("findings", 0),
	}}
}

func alarmIf(n int) Level {
	if n > 0 {
		return Alarm
	}
	return Plain
}

func cautionIf(n int) Level {
	if n > 0 {
		return Caution
	}
	return Plain
}

// outcomeMeanings say what an outcome is, for people.
var outcomeMeanings = map[ingest.Outcome]string{
	ingest.OutcomeImage:        "images that were read",
	ingest.OutcomeReport:       "structured reports that were read",
	ingest.OutcomePresentation: "presentation states that were read",
	ingest.OutcomeOther:        "DICOM objects of another kind, media directories among them",
	ingest.OutcomeDuplicate:    "the same bytes as a file met before; counted once",
	ingest.OutcomeConflict:     "the UID of a file met before with other bytes; not used",
	ingest.OutcomeNotDICOM:     "no DICOM: not used, but for archives, whose files are counted each",
	ingest.OutcomeUnreadable:   "could not be read; the sheet Files says why",
}

func read(o overview.Overview) Section {
	s := filesRead(o)
	s.Lines = append(s.Lines,
		line(text("studies"), count(o.Studies), text(fmt.Sprintf("with %s (%s, %s), %s and %s",
			counted(o.Images, "image", "images"), counted(o.Stills, "still", "stills"), counted(o.Clips, "clip", "clips"),
			counted(o.Reports, "structured report", "structured reports"), counted(o.Presentations, "presentation state", "presentation states")))).to("studies", 0),
		line(text("measurements"), count(o.Measurements), text(fmt.Sprintf("%d of them rebuilt from their caliper", o.Rebuilt))).to("measurements", 0),
	)
	return s
}

// filesRead is what became of every file met.
func filesRead(o overview.Overview) Section {
	s := Section{Title: "What was read", Columns: headings("Files", "Number", "What they are")}
	for _, n := range o.Outcomes {
		level := Plain
		if n.Files > 0 {
			level = levels[string(n.Outcome)]
		}
		s.Lines = append(s.Lines, line(text(Words(string(n.Outcome))), count(n.Files), text(outcomeMeanings[n.Outcome])).marked(level))
	}
	s.Lines = append(s.Lines, line(text("all files met"), count(o.Files), text("the sum of the above, one row each in the sheet Files")).to("files", 0))
	return s
}

// verdictMeanings say what a verdict is, for people.
var verdictMeanings = map[analyse.Verdict]string{
	analyse.VerdictAgrees:       "reported and rebuilt value agree within half a unit of the last printed place + U",
	analyse.VerdictDiffers:      "they differ by more: look at these",
	analyse.VerdictSuspect:      "the calibration contradicts its own image: shown, not used",
	analyse.VerdictRebuiltOnly:  "rebuilt from a caliper; the archive holds no number to compare",
	analyse.VerdictReportedOnly: "a number without a caliper: it cannot be checked",
	analyse.VerdictNotRebuilt:   "a caliper that cannot be turned into a value; the note says why",
}

func differs(o overview.Overview) Section {
	s := Section{Title: "What differs", Columns: headings("Verdict", "Number", "What it means")}
	for _, v := range o.Verdicts {
		level := Plain
		if v.Measurements > 0 {
			level = levels[string(v.Verdict)]
		}
		s.Lines = append(s.Lines, line(text(Words(string(v.Verdict))), count(v.Measurements), text(verdictMeanings[v.Verdict])).marked(level).to("measurements", 0))
	}
	return s
}

func counted(n int, one, many string) string { return analyse.Counted(n, one, many) }
