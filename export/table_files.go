package export

import (
	"slices"

	"leadline/export/deid"
	"leadline/ingest"
)

func (w *writer) files() Table {
	study := func(e *ingest.Entry) *studyRow { return w.byUID[e.StudyUID] }
	d := definition[*ingest.Entry]{
		name: "files", title: "Files",
		about:   "One row for every file met.",
		subject: func(e *ingest.Entry) *deid.Subject { return w.aboutUID(e.StudyUID) },
		columns: []column[*ingest.Entry]{
			{Column: Column{Name: "path", Heading: "Path", Kind: Text, Width: 70, Wrap: true, Rule: deid.Path,
				Meaning: `Where the file was met. Characters that cannot be seen, and bytes that are no text, are written \x1B or \u202E.`},
				cell: func(e *ingest.Entry) Cell { return text(e.Path) }},
			{Column: Column{Name: "bytes", Heading: "Size (bytes)", Kind: Integer, Unit: "By", Width: 13,
				Meaning: "Size of the file."},
				cell: func(e *ingest.Entry) Cell { return integer(e.Bytes) }},
			{Column: Column{Name: "outcome", Heading: "Outcome", Kind: Text, Wording: InWords, Width: 13, Signal: ByWord,
				Meaning: "What became of it: image, report, presentation (state), other (a DICOM object of another kind), duplicate (the bytes of a file met before), conflict (the SOP Instance UID of a file met before, other bytes: not used), not-dicom, unreadable."},
				cell: func(e *ingest.Entry) Cell { return text(string(e.Outcome)) }},
			{Column: Column{Name: "reason", Heading: "Reason", Kind: Text, Width: 60, Wrap: true, Rule: deid.Message,
				Meaning: "Why, where the outcome needs a reason. Names tags, lengths and offsets, never values."},
				cell: func(e *ingest.Entry) Cell { return text(e.Reason) }},
			studyNumber(study),
			{Column: Column{Name: "sop_class", Heading: "SOP class", Kind: Text, Width: 30, Place: Back,
				Meaning: "SOP Class UID (0008,0016): the kind of object."},
				cell: func(e *ingest.Entry) Cell { return text(e.SOPClassUID) }},
			{Column: Column{Name: "transfer_syntax", Heading: "Transfer syntax", Kind: Text, Width: 22, Place: Back,
				Meaning: "Transfer Syntax UID (0002,0010): the encoding."},
				cell: func(e *ingest.Entry) Cell { return text(e.TransferSyntaxUID) }},
			{Column: Column{Name: "study_uid", Heading: "Study UID", Kind: Text, Width: 18, Place: Back, Rule: deid.UID,
				Meaning: "Study Instance UID (0020,000D)."},
				cell: func(e *ingest.Entry) Cell { return text(e.StudyUID) }},
			{Column: Column{Name: "sop_uid", Heading: "SOP UID", Kind: Text, Width: 18, Place: Back, Rule: deid.UID,
				Meaning: "SOP Instance UID (0008,0018) of the file."},
				cell: func(e *ingest.Entry) Cell { return text(e.SOPUID) }},
		},
	}
	ledger := w.result.Ledger
	return d.table(w.rules, len(ledger), pointers(ledger))
}

// reportStates are the states of a study's report, for the codebook.
const reportStates = "none, partial, complete or verified"

func (w *writer) studies() Table {
	d := definition[*studyRow]{
		name: "studies", title: "Studies",
		about:   "One row for each study, put together from all folders.",
		subject: func(s *studyRow) *deid.Subject { return s.about },
		columns: slices.Concat(studyIdentity(), w.studyContent(), studyResult(), studyPatient()),
	}
	return d.table(w.rules, len(w.rows), slices.Values(w.rows))
}
