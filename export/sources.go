package export

import (
	"iter"

	"leadline/analyse"
	"leadline/export/deid"
)

// part is one thing of a study with the study it belongs to.
type part[T any] struct {
	study *studyRow
	item  T
}

func about[T any](p part[T]) *deid.Subject { return p.study.about }

// parts walks one list of every study, study by study, and counts it.
func parts[T any](w *writer, list func(*analyse.Study) []T) (int, iter.Seq[part[*T]]) {
	return pointed(w, list, func(item *T) *T { return item })
}

// shared is the same for lists of what studies have in common.
func shared[T any](w *writer, list func(*analyse.Study) []*T) (int, iter.Seq[part[*T]]) {
	return pointed(w, list, func(item **T) *T { return *item })
}

func pointed[E, T any](w *writer, list func(*analyse.Study) []E, of func(*E) *T) (int, iter.Seq[part[*T]]) {
	n := 0
	for _, r := range w.rows {
		n += len(list(r.Study))
	}
	return n, func(yield func(part[*T]) bool) {
		for _, r := range w.rows {
			items := list(r.Study)
			for i := range items {
				if !yield(part[*T]{r, of(&items[i])}) {
					return
				}
			}
		}
	}
}

// studyNumber and studyDate lead the rows of sheets: they find a study in the
// sheet of studies without its UID.
func studyNumber[R any](study func(R) *studyRow) column[R] {
	return column[R]{Column: Column{Heading: "Study", Kind: Integer, Width: 7, Place: Front}, cell: func(r R) Cell {
		if s := study(r); s != nil {
			return count(s.n)
		}
		return Cell{}
	}}
}

func studyDate[R any](study func(R) *studyRow) column[R] {
	return column[R]{Column: Column{Heading: "Study date", Kind: Date, Width: 11, Place: Front, Rule: deid.Stamp}, cell: func(r R) Cell {
		if s := study(r); s != nil {
			return date(s.Start)
		}
		return Cell{}
	}}
}

// studyUID opens nearly every table.
func studyUID[R any](study func(R) *studyRow) column[R] {
	return column[R]{Column: Column{Name: "study_uid", Heading: "Study UID", Kind: Text, Width: 18, Place: Back, Rule: deid.UID,
		Meaning: "Study Instance UID (0020,000D)."}, cell: func(r R) Cell { return text(study(r).UID) }}
}

func ofPart[T any](p part[T]) *studyRow { return p.study }
