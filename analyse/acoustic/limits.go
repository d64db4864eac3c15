// Package acoustic holds the output indices that headers give against recommended
// limits: image by image for findings, and by exam, device and month. An archive is
// a sample of what was scanned: it knows no exposure time, and nothing here says that
// a scan was safe or was not.
package acoustic

import (
	"cmp"
	"slices"

	"leadline/analyse"
	"leadline/ingest"
	"leadline/ingest/terms"
)

// exam is one kind of exam of a table of limits.
type exam struct {
	id    string
	words []string
	// limits are sorted by index in the order of the table, then from low to high.
	limits []ingest.AcousticLimit
}

// Limits are a table of limits by exam, in the order of the table.
type Limits struct{ exams []exam }

// New makes a table of its rows.
func New(rows []ingest.AcousticLimit) *Limits {
	l := &Limits{}
	for _, r := range rows {
		at := slices.IndexFunc(l.exams, func(e exam) bool { return e.id == r.Exam })
		if at < 0 {
			at = len(l.exams)
			l.exams = append(l.exams, exam{id: r.Exam, words: r.Words})
		}
		l.exams[at].limits = append(l.exams[at].limits, r)
	}
	for i := range l.exams {
		e := &l.exams[i]
		first := func(x ingest.AcousticIndex) int {
			return slices.IndexFunc(rows, func(r ingest.AcousticLimit) bool { return r.Exam == e.id && r.Index == x })
		}
		slices.SortStableFunc(e.limits, func(a, b ingest.AcousticLimit) int {
			return cmp.Or(cmp.Compare(first(a.Index), first(b.Index)), cmp.Compare(a.Above, b.Above))
		})
	}
	return l
}

// header is what tells the exam of an image: images that share it are of one exam.
type header struct {
	study  *ingest.Study
	series *ingest.Series
}

// told remembers what headers told.
type told map[header]answer

// answer is an exam, nil for none, and which fact told it.
type answer struct {
	exam *exam
	fact string
}

// of tells the exam of an image by the first fact of its header that names one: Body
// Part Examined, anatomic region, then protocol name and descriptions. Where none
// does, it is not told: what the picture shows or who scanned says nothing here.
func (l *Limits) of(img *analyse.Image, known told) answer {
	key := header{img.Study, img.Series}
	a, ok := known[key]
	if !ok {
		if a = l.byTexts("Body Part Examined", img.Series.BodyPart); a.exam == nil {
			a = l.byTexts("descriptions", img.Descriptions()...)
		}
		known[key] = a
	}
	if a.fact == "Body Part Examined" {
		return a
	}
	for _, c := range img.Instance.Image.AnatomicRegions {
		if b := l.byTexts("anatomic region", c.Meaning); b.exam != nil {
			return b
		}
	}
	return a
}

func (l *Limits) byTexts(fact string, texts ...string) answer {
	for i := range l.exams {
		for _, text := range texts {
			if text != "" && slices.ContainsFunc(l.exams[i].words, func(w string) bool { return terms.Contains(text, w) }) {
				return answer{&l.exams[i], fact}
			}
		}
	}
	return answer{}
}

// valueOf is an index as the header of an image gives it. A thermal index of soft
// tissue is the largest of its kinds. Absent stays absent.
func valueOf(img *analyse.Image, index ingest.AcousticIndex) ingest.Optional[float64] {
	a := &img.Instance.Image.Acoustic
	switch index {
	case ingest.IndexMI:
		return a.Mechanical
	case ingest.IndexTIB:
		return a.Bone
	case ingest.IndexTIC:
		return a.Cranial
	case ingest.IndexTIS:
		return larger(a.SoftTissue, larger(a.SoftTissueFocus, a.SoftTissueSurface))
	}
	return img.ThermalIndex
}

func larger(a, b ingest.Optional[float64]) ingest.Optional[float64] {
	if !a.Set || (b.Set && b.Value > a.Value) {
		return b
	}
	return a
}
