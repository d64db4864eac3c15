package export

import (
	"cmp"
	"slices"

	"leadline/analyse"
	"leadline/export/deid"
	"leadline/ingest"
)

type acousticRow = *analyse.AcousticRow

func (w *writer) acoustic(rows []analyse.AcousticRow) Table {
	if w.rules.Identity() == deid.None {
		rows = outOfTime(rows)
	}
	d := definition[acousticRow]{
		name: "acoustic", title: "Acoustic output",
		about:   "One row for each exam, device, month and recommended limit of an output index: first what lies above one, then what lies below, then exams without limits, last what headers do not give (all months in one row). Of a ladder of limits, those above the lowest have rows where something lies above them.",
		subject: func(acousticRow) *deid.Subject { return nil },
		columns: append(w.acousticGroup(), append(acousticCounts(), acousticTimes()...)...),
	}
	return d.table(w.rules, len(rows), pointers(rows))
}

// outOfTime sorts the months of a group by what they count: in their order they would
// tell what the shift of dates hides.
func outOfTime(rows []analyse.AcousticRow) []analyse.AcousticRow {
	rows = slices.Clone(rows)
	above := func(r *analyse.AcousticRow) bool { return r.Above > 0 }
	same := func(a, b *analyse.AcousticRow) bool {
		return a.Exam == b.Exam && analyse.DeviceName(a.Device) == analyse.DeviceName(b.Device) && above(a) == above(b) && (a.Limit == nil) == (b.Limit == nil)
	}
	for from := 0; from < len(rows); {
		to := from + 1
		for to < len(rows) && same(&rows[from], &rows[to]) {
			to++
		}
		slices.SortStableFunc(rows[from:to], func(a, b analyse.AcousticRow) int {
			return cmp.Or(cmp.Compare(a.Index, b.Index), cmp.Compare(b.Above, a.Above), cmp.Compare(b.With, a.With), cmp.Compare(b.Images, a.Images),
				cmp.Compare(a.Max.Value, b.Max.Value), cmp.Compare(a.Median.Value, b.Median.Value), cmp.Compare(a.ClipS, b.ClipS))
		})
		from = to
	}
	return rows
}

func (w *writer) acousticGroup() []column[acousticRow] {
	return []column[acousticRow]{
		{Column: Column{Name: "exam", Heading: "Exam", Kind: Text, Width: 10, Place: Front, Meaning: "The kind of exam as the table of limits names it; absent where nothing tells one of them."},
			cell: func(r acousticRow) Cell { return text(r.Exam) }},
		{Column: Column{Name: "told_by", Heading: "Told by", Kind: Text, Width: 20, Place: Aside, Wrap: true, Meaning: "What told the exam: a label, Body Part Examined, the anatomic region, the view, the descriptions; the first that names one."},
			cell: func(r acousticRow) Cell { return text(r.Told) }},
		{Column: Column{Name: "device", Heading: "Device", Kind: Text, Width: 36, Wrap: true, Place: Front, Rule: deid.Device, Meaning: "Maker, model and serial number."},
			cell: func(r acousticRow) Cell { return text(w.device(r.Device)) }, ruleOf: settled[acousticRow]},
		{Column: Column{Name: "month", Heading: "Month", Kind: Text, Width: 9, Place: Front, Rule: deid.Period, Meaning: "Month of the study; absent where no image of several months gives the index."},
			cell: func(r acousticRow) Cell { return text(r.Month) }},
		{Column: Column{Name: "index", Heading: "Index", Kind: Text, Width: 7, Place: Front, Meaning: "MI (mechanical), TIS, TIB, TIC (thermal: soft tissue, bone, cranial bone), TI (the largest thermal index that the header gives). They have no unit."},
			cell: func(r acousticRow) Cell { return text(string(r.Index)) }},
		{Column: Column{Name: "above_limit_of", Heading: "Limit", Kind: Number, Unit: "1", Width: 7, Places: 1, Place: Front, Meaning: "The recommended limit; absent where the table has none for the exam, or no image gives the index."},
			cell: func(r acousticRow) Cell {
				return ofLimit(r, func(l *ingest.AcousticLimit) Cell { return number(l.Above) })
			}},
	}
}

func acousticCounts() []column[acousticRow] {
	return []column[acousticRow]{
		{Column: Column{Name: "images_above", Heading: "Images above", Kind: Integer, Width: 8, Place: Front, Signal: CautionIfAny, Meaning: "Images with the index above the limit, stills and clips."},
			cell: func(r acousticRow) Cell {
				return ofLimit(r, func(*ingest.AcousticLimit) Cell { return count(r.Above) })
			}},
		{Column: Column{Name: "images_with_index", Heading: "Images with it", Kind: Integer, Width: 8, Place: Front, Meaning: "Images whose header gives the index, without those set aside."},
			cell: func(r acousticRow) Cell { return count(r.With) }},
		{Column: Column{Name: "share_above", Heading: "Share above", Kind: Share, Width: 8, Place: Front, Meaning: "images_above ÷ images_with_index, 0 to 1. Images of one study are not independent."},
			cell: func(r acousticRow) Cell {
				if !r.Share.Set {
					return Cell{}
				}
				return Cell{Kind: Share, Number: r.Share.Value}
			}},
		{Column: Column{Name: "images_without_index", Heading: "Images without it", Kind: Integer, Width: 9, Place: Front, Meaning: "Images whose header does not give the index: not known, and nothing is assumed."},
			cell: func(r acousticRow) Cell { return count(r.Images - r.With - r.SetAside) }},
		{Column: Column{Name: "studies", Heading: "Studies", Kind: Integer, Width: 8, Place: Aside, Meaning: "Studies that the images come from."},
			cell: func(r acousticRow) Cell { return count(r.Studies) }},
		{Column: Column{Name: "median", Heading: "Median", Kind: Number, Unit: "1", Width: 8, Places: 2, Place: Front, Meaning: "Median of the index."},
			cell: func(r acousticRow) Cell { return optional(r.Median) }},
		{Column: Column{Name: "largest", Heading: "Largest", Kind: Number, Unit: "1", Width: 8, Places: 2, Place: Front, Meaning: "The largest value of the index."},
			cell: func(r acousticRow) Cell { return optional(r.Max) }},
	}
}

func acousticTimes() []column[acousticRow] {
	return []column[acousticRow]{
		{Column: Column{Name: "clip_s", Heading: "Clips (s)", Kind: Number, Unit: "s", Width: 8, Place: Aside, Places: 1, Meaning: "Length together of clips with the index. Stills have no length, and exposure times are not archived: the time that was scanned is longer."},
			cell: func(r acousticRow) Cell { return number(r.ClipS) }},
		{Column: Column{Name: "clip_above_s", Heading: "Clips above (s)", Kind: Number, Unit: "s", Width: 8, Places: 1, Place: Front, Meaning: "Length together of those above the limit."},
			cell: func(r acousticRow) Cell {
				return ofLimit(r, func(*ingest.AcousticLimit) Cell { return number(r.AboveS) })
			}},
		{Column: Column{Name: "clips_untimed", Heading: "Clips of unknown length", Kind: Integer, Width: 9, Place: Aside, Meaning: "Clips with the index that have no frame timing; they are in no time."},
			cell: func(r acousticRow) Cell { return count(r.Untimed) }},
		{Column: Column{Name: "longest_study_s", Heading: "Longest of a study (s)", Kind: Number, Unit: "s", Width: 10, Place: Aside, Places: 1, Meaning: "The longest time above the limit in clips of one study."},
			cell: func(r acousticRow) Cell {
				return ofLimit(r, func(*ingest.AcousticLimit) Cell { return number(r.LongestS) })
			}},
		{Column: Column{Name: "minutes", Heading: "Minutes recommended", Kind: Number, Unit: "min", Width: 16, Place: Front, Meaning: "How long a scan above the limit should last at most, 0 for not at all; absent where no time is named."},
			cell: func(r acousticRow) Cell {
				return ofLimit(r, func(l *ingest.AcousticLimit) Cell { return optional(l.Minutes) })
			}},
		{Column: Column{Name: "studies_beyond", Heading: "Studies beyond", Kind: Integer, Width: 9, Place: Aside, Signal: CautionIfAny, Meaning: "Studies whose clips alone last longer above the limit than minutes; absent where no time is named."},
			cell: func(r acousticRow) Cell {
				if r.Limit == nil || !r.Limit.Minutes.Set {
					return Cell{}
				}
				return count(r.Beyond)
			}},
		{Column: Column{Name: "seen", Heading: "Seen", Kind: Text, Width: 12, Place: Front, Meaning: "seen (in print, or in a copy), from memory, local."},
			cell: func(r acousticRow) Cell {
				return ofLimit(r, func(l *ingest.AcousticLimit) Cell { return text(l.Seen) })
			}},
		{Column: Column{Name: "source", Heading: "Source", Kind: Text, Width: 84, Wrap: true, Place: Front, Meaning: "Where the limit was printed."},
			cell: func(r acousticRow) Cell {
				return ofLimit(r, func(l *ingest.AcousticLimit) Cell { return text(l.Source) })
			}},
		{Column: Column{Name: "images_set_aside", Heading: "Images set aside", Kind: Integer, Width: 9, Place: Aside, Signal: CautionIfAny, Meaning: "Images whose index no device can show (finding output-index-absurd); they are in no other count but studies."},
			cell: func(r acousticRow) Cell { return count(r.SetAside) }},
	}
}

// ofLimit is absent where a row has no limit.
func ofLimit(r acousticRow, of func(*ingest.AcousticLimit) Cell) Cell {
	if r.Limit == nil {
		return Cell{}
	}
	return of(r.Limit)
}
