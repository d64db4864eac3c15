package export

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"leadline/analyse"
	"leadline/export/deid"
)

type indexRow = part[*analyse.Index]

func (w *writer) indices() Table {
	d := definition[indexRow]{
		name: "indices", title: "Indices",
		about:   "One row for each quantity derived from measurements, with the reason where it could not be derived.",
		subject: about[*analyse.Index],
		columns: []column[indexRow]{
			studyNumber(ofPart[*analyse.Index]),
			studyDate(ofPart[*analyse.Index]),
			studyUID(ofPart[*analyse.Index]),
			{Column: Column{Heading: "Index", Kind: Text, Width: 44, Wrap: true, Place: Front},
				cell: func(r indexRow) Cell { return text(r.item.Title) }},
			{Column: Column{Name: "index", Heading: "Index id", Kind: Text, Width: 38, Place: Aside, Meaning: "The derived quantity."},
				cell: func(r indexRow) Cell { return text(r.item.ID) }},
			{Column: Column{Name: "value", Heading: "Value", Kind: Number, Width: 10, Place: Front, Meaning: "Its value in unit; absent where an input is missing."},
				cell: func(r indexRow) Cell { return value(r.item.Value) }},
			{Column: Column{Name: "unit", Heading: "Unit", Kind: Text, Wording: UnitSigns, Width: 10, Place: Front, Meaning: "UCUM code of value and uncertainty."},
				cell: func(r indexRow) Cell { return unit(r.item.Value) }},
			{Column: Column{Name: "uncertainty", Heading: "U (k = 2)", Kind: Number, Width: 9, Place: Front,
				Meaning: "Expanded uncertainty U, coverage factor k = 2 (JCGM 100), in unit. It holds what the calipers contribute (the placing error and the calibration tolerance of the protocol where it gives them, else the step of a pixel alone), not how well the formula fits a heart. A point that its calipers share has one error, which moves all of them."},
				cell: func(r indexRow) Cell { return uncertainty(r.item.Value) }},
			{Column: Column{Name: "inputs", Heading: "Inputs", Kind: Text, Wording: MeasureTitles, Width: 44, Wrap: true, Place: Aside, Rule: deid.Message,
				Meaning: "What it was computed from: measurements by number and measure, what of the study header, what was assumed; separated by \"; \"."},
				cell: func(r indexRow) Cell { return text(strings.Join(r.item.Inputs, listSeparator)) }},
			{Column: Column{Name: "formula", Heading: "Formula", Kind: Text, Width: 40, Wrap: true, Place: Aside, Meaning: "How it was computed."},
				cell: func(r indexRow) Cell { return text(r.item.Formula) }},
			{Column: Column{Name: "reference", Heading: "Reference", Kind: Text, Width: 70, Wrap: true,
				Meaning: "The published source of the formula, then \" | \" and each row of the reference table that the value was held against: " + comparedMeaning},
				cell: func(r indexRow) Cell { return text(joinCompared(r.item.Reference, r.item.Compared)) }},
			{Column: Column{Name: "note", Heading: "Note", Kind: Text, Width: 70, Wrap: true, Place: Front, Rule: deid.Message, Meaning: "Why it is absent, or what else is to be known."},
				cell: func(r indexRow) Cell { return text(r.item.Note) }},
		},
	}
	n, rows := parts(w, func(s *analyse.Study) []analyse.Index { return s.Indices })
	return d.table(w.rules, n, rows)
}

type itemRow = part[*analyse.ItemResult]

func (w *writer) completeness() Table {
	d := definition[itemRow]{
		name: "completeness", title: "Completeness",
		about:   "One row for each study and protocol item.",
		subject: about[*analyse.ItemResult],
		columns: []column[itemRow]{
			studyNumber(ofPart[*analyse.ItemResult]),
			studyDate(ofPart[*analyse.ItemResult]),
			studyUID(ofPart[*analyse.ItemResult]),
			{Column: Column{Name: "protocol", Heading: "Protocol id", Kind: Text, Width: 22, Place: Aside, Meaning: "The protocol."},
				cell: func(r itemRow) Cell { return text(r.item.Protocol) }},
			{Column: Column{Heading: "Protocol", Kind: Text, Width: 26, Wrap: true},
				cell: func(r itemRow) Cell { return text(w.result.ProtocolTitle(r.item.Protocol)) }},
			{Column: Column{Name: "item", Heading: "Item id", Kind: Text, Width: 30, Place: Aside, Meaning: "The item of the protocol."},
				cell: func(r itemRow) Cell { return text(r.item.Item) }},
			{Column: Column{Heading: "Item", Kind: Text, Width: 44, Wrap: true, Place: Front},
				cell: func(r itemRow) Cell { return text(r.item.Title) }},
			{Column: Column{Name: "kind", Heading: "Kind", Kind: Text, Width: 9, Meaning: "header, image, measure, index or report."},
				cell: func(r itemRow) Cell { return text(r.item.Kind) }},
			{Column: Column{Name: "required", Heading: "Required", Kind: Flag, Width: 11, Meaning: "Whether the study needs the item to be complete."},
				cell: func(r itemRow) Cell { return flag(r.item.Required) }},
			{Column: Column{Name: "status", Heading: "Status", Kind: Text, Wording: InWords, Width: 14, Place: Front, Signal: ByWord,
				Meaning: "met, partial (found, less than needed), missing (not in the archive: not evidence that it was not done), not-assessable (the files do not say enough), not-applicable."},
				cell: func(r itemRow) Cell { return text(string(r.item.Status)) }},
			{Column: Column{Name: "found", Heading: "Found", Kind: Integer, Width: 7, Place: Front, Meaning: "How many were found."},
				cell: func(r itemRow) Cell { return count(r.item.Found) }},
			{Column: Column{Name: "needed", Heading: "Needed", Kind: Integer, Width: 8, Place: Front, Meaning: "How many the protocol asks for."},
				cell: func(r itemRow) Cell { return count(r.item.Needed) }},
			{Column: Column{Name: "evidence", Heading: "Evidence", Kind: Text, Wording: MeasureTitles, Width: 36, Wrap: true, Rule: deid.Message,
				Meaning: "The images (instance numbers) or measurements that meet it."},
				cell: func(r itemRow) Cell { return text(r.item.Evidence) }},
			{Column: Column{Name: "note", Heading: "Note", Kind: Text, Width: 50, Wrap: true, Rule: deid.Message, Meaning: "What fell short or could not be judged."},
				cell: func(r itemRow) Cell { return text(r.item.Note) }},
			{Column: Column{Name: "severity", Heading: "Severity", Kind: Text, Width: 10,
				Meaning: "How much it matters, as the protocol has it, that a required item is partial or missing: error, warning or note; else absent."},
				cell: func(r itemRow) Cell { return text(string(shortfall(r.item))) }},
		},
	}
	n, rows := shared(w, func(s *analyse.Study) []*analyse.ItemResult { return s.Items })
	return d.table(w.rules, n, rows)
}

// shortfall is the severity of an item that a study needs and falls short of.
func shortfall(item *analyse.ItemResult) analyse.Severity {
	if item.Required && (item.Status == analyse.Partial || item.Status == analyse.Missing) {
		return item.Severity
	}
	return ""
}

func (w *writer) findings() Table {
	study := func(f *analyse.Finding) *studyRow { return w.byUID[f.StudyUID] }
	d := definition[*analyse.Finding]{
		name: "findings", title: "Findings",
		about:   "One row for each thing that a reader should look at, the most severe first.",
		subject: func(f *analyse.Finding) *deid.Subject { return w.aboutUID(f.StudyUID) },
		columns: []column[*analyse.Finding]{
			{Column: Column{Name: "severity", Heading: "Severity", Kind: Text, Width: 10, Place: Front, Signal: ByWord,
				Meaning: "error (a value or a file cannot be relied on), warning (look before relying on it), note. It belongs to the finding."},
				cell: func(f *analyse.Finding) Cell { return text(string(f.Severity)) }},
			{Column: Column{Heading: "Finding", Kind: Text, Width: 34, Wrap: true, Place: Front},
				cell: func(f *analyse.Finding) Cell { return text(capital(f.Title)) }},
			{Column: Column{Name: "finding", Heading: "Finding id", Kind: Text, Width: 28, Place: Aside, Meaning: "Which finding it is; the README explains each."},
				cell: func(f *analyse.Finding) Cell { return text(f.ID) }},
			studyNumber(study),
			studyDate(study),
			{Column: Column{Name: "study_uid", Heading: "Study UID", Kind: Text, Width: 18, Place: Back, Rule: deid.UID, Meaning: "Study Instance UID (0020,000D), where it is about a study."},
				cell: func(f *analyse.Finding) Cell { return text(f.StudyUID) }},
			{Column: Column{Name: "sop_uid", Heading: "SOP UID", Kind: Text, Width: 18, Place: Back, Rule: deid.UID, Meaning: "SOP Instance UID (0008,0018), where it is about one object."},
				cell: func(f *analyse.Finding) Cell { return text(f.SOPUID) }},
			{Column: Column{Name: "path", Heading: "Path", Kind: Text, Width: 46, Wrap: true, Rule: deid.Path, Meaning: "The file, where it is about one."},
				cell: func(f *analyse.Finding) Cell { return text(f.Path) }},
			{Column: Column{Name: "message", Heading: "What was found", Kind: Text, Width: 64, Wrap: true, Place: Front, Rule: deid.Message,
				Meaning: "What was found, in words; never a name, an id, a birth date or free text of a file."},
				cell: func(f *analyse.Finding) Cell { return text(w.message(f)) }},
			{Column: Column{Name: "advice", Heading: "What to do", Kind: Text, Width: 50, Wrap: true, Place: Front, Meaning: "What the reader does next."},
				cell: func(f *analyse.Finding) Cell { return text(f.Advice) }},
		},
	}
	findings := w.findingOrder()
	return d.table(w.rules, len(findings), slices.Values(findings))
}

// findingOrder is the order of the findings with those of one kind in the order of the
// studies as they are written: with shifted dates it does not tell the true ones.
func (w *writer) findingOrder() []*analyse.Finding {
	list := slices.Collect(pointers(w.result.Findings))
	place := func(f *analyse.Finding) int {
		if s := w.byUID[f.StudyUID]; s != nil {
			return s.n
		}
		return 0
	}
	for from := 0; from < len(list); {
		to := from + 1
		for to < len(list) && list[to].ID == list[from].ID && list[to].Severity == list[from].Severity {
			to++
		}
		slices.SortStableFunc(list[from:to], func(a, b *analyse.Finding) int { return cmp.Compare(place(a), place(b)) })
		from = to
	}
	return list
}

// shownFiles is how many of the files of a finding are listed.
const shownFiles = 5

// message is the message of a finding with its device and the first of its files,
// under the same pseudonyms as in the other tables.
func (w *writer) message(f *analyse.Finding) string {
	message := f.Message
	if f.Device != nil {
		message = w.namedDevice(f.Device) + ": " + message
	}
	if len(f.Files) == 0 {
		return message
	}
	return message + ": " + w.fileList(f.Files)
}

// fileList names the first of several files.
func (w *writer) fileList(files []string) string {
	shown := files[:min(len(files), shownFiles)]
	paths := make([]string, len(shown))
	for i, p := range shown {
		paths[i] = w.rules.Text(deid.Path, nil, p)
	}
	list := strings.Join(paths, listSeparator)
	if more := len(files) - len(shown); more > 0 {
		list += fmt.Sprintf(" and %d more", more)
	}
	return list
}
