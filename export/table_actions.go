package export

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"leadline/analyse"
	"leadline/export/deid"
)

// actionKinds are the classes in a word each.
var actionKinds = map[analyse.ActionClass]string{
	analyse.ActionMisleads: "misleads", analyse.ActionMissing: "missing", analyse.ActionPartial: "partial",
	analyse.ActionDoubtful: "doubtful", analyse.ActionNotAssessable: "not-assessable",
	analyse.ActionDevice: "device", analyse.ActionFiles: "files",
}

// actions is the list of a meeting. Who does it and by when are written by hand, so
// these two columns are for the pen.
func (w *writer) actions() Table {
	type row = *analyse.Action
	study := w.studyOfAction
	ofStudy := func(make func(*studyRow) Cell) func(row) Cell {
		return func(a row) Cell {
			if s := study(a); s != nil {
				return make(s)
			}
			return Cell{}
		}
	}
	d := definition[row]{
		name: "actions", title: "Actions",
		about: "One row for each thing to do, what to mend first at the top: what misleads a reader, what is missing, what is there in part, what is doubtful, what nobody can judge, then what a device does in every study, and files.",
		subject: func(a row) *deid.Subject {
			if s := study(a); s != nil {
				return s.about
			}
			return nil
		},
		columns: []column[row]{
			{Column: Column{Name: "order", Heading: "No.", Kind: Integer, Width: 5, Place: Front, Meaning: "The place in the list, from 1."},
				cell: func(a row) Cell { return count(a.Order) }},
			{Column: Column{Name: "kind", Heading: "Kind", Kind: Text, Wording: InWords, Width: 13, Place: Aside, Signal: ByWord,
				Meaning: "misleads, missing, partial, doubtful, not-assessable, device or files, in the order of mending."},
				cell: func(a row) Cell { return text(actionKinds[a.Class]) }},
			{Column: Column{Name: "why", Heading: "Why here", Kind: Text, Width: 15, Wrap: true, Place: Front, Signal: ByWord, Meaning: "Why the row stands where it does; the kind in words."},
				cell: func(a row) Cell { return text(a.Class.Why()) }},
			studyNumber(study),
			{Column: Column{Name: "study_uid", Heading: "Study UID", Kind: Text, Width: 18, Place: Back, Rule: deid.UID, Meaning: "Study Instance UID (0020,000D); absent where the row is about a device or the archive."},
				cell: ofStudy(func(s *studyRow) Cell { return text(s.UID) })},
			{Column: Column{Name: "study_id", Heading: "Study ID", Kind: Text, Width: 9, Place: Front, Rule: deid.Code, Meaning: "Study ID (0020,0010)."},
				cell: ofStudy(func(s *studyRow) Cell { return text(s.Header.ID) })},
			{Column: Column{Name: "study_date", Heading: "Date", Kind: Date, Width: 11, Place: Front, Rule: deid.Stamp, Meaning: "Study Date (0008,0020), else the date of the first image."},
				cell: ofStudy(func(s *studyRow) Cell { return date(s.Start) })},
			{Column: Column{Name: "problem", Heading: "What is missing or wrong", Kind: Text, Width: 44, Wrap: true, Place: Front, Rule: deid.Message,
				Meaning: "What is missing or wrong, in short sentences; the numbers of images are those of the device."},
				cell: func(a row) Cell { return text(w.problem(a)) }},
			{Column: Column{Name: "todo", Heading: "What to do", Kind: Text, Width: 38, Wrap: true, Place: Front, Meaning: "What to do."},
				cell: func(a row) Cell { return text(a.Todo) }},
			{Column: Column{Name: "operator", Heading: "Scanned by", Kind: Text, Width: 10, Wrap: true, Place: Front, Rule: deid.Person, Meaning: "Who scanned (0008,1070), where the row is about one study."},
				cell: ofStudy(func(s *studyRow) Cell { return text(strings.Join(s.Operators, listSeparator)) })},
			{Column: Column{Name: "device", Heading: "Device", Kind: Text, Width: 18, Wrap: true, Place: Front, Rule: deid.Device, Meaning: "Maker, model and serial number of the device that it is about, or that made the study."},
				cell: func(a row) Cell { return text(w.device(a.Device)) }, ruleOf: settled[row]},
			{Column: Column{Name: "studies", Heading: "Studies", Kind: Integer, Width: 8, Place: Aside, Meaning: "Studies that it was met in."},
				cell: func(a row) Cell { return count(a.Studies) }},
			{Column: Column{Name: "times", Heading: "Times", Kind: Integer, Width: 7, Place: Aside, Meaning: "How often it was met: findings, or items of a protocol."},
				cell: func(a row) Cell { return count(a.Times) }},
			forThePen[row]("Who does it", 14), forThePen[row]("Done on", 10),
		},
	}
	list := w.actionOrder()
	return d.table(w.rules, len(list), pointers(list))
}

// studyOfAction is the study that an action is about, nil where it is about none.
func (w *writer) studyOfAction(a *analyse.Action) *studyRow {
	if a.Study == nil {
		return nil
	}
	return w.byUID[a.Study.UID]
}

// actionOrder is the order of the list where dates do not decide; where they do, it is
// that of the rows of studies, so that with shifted dates it does not tell the true ones.
func (w *writer) actionOrder() []analyse.Action {
	list := slices.Clone(w.result.Actions)
	place := func(a analyse.Action) int {
		if s := w.studyOfAction(&a); s != nil {
			return s.n
		}
		return 0
	}
	slices.SortStableFunc(list, func(a, b analyse.Action) int {
		return cmp.Or(cmp.Compare(a.Class, b.Class), cmp.Compare(b.Studies, a.Studies), cmp.Compare(b.Times, a.Times), cmp.Compare(place(a), place(b)))
	})
	for i := range list {
		list[i].Order = i + 1
	}
	return list
}

// problem is what is wrong, with the first of the files it is about.
func (w *writer) problem(a *analyse.Action) string {
	if len(a.Files) == 0 {
		return a.Problem
	}
	return fmt.Sprintf("%s Files: %s.", a.Problem, w.fileList(a.Files))
}
