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
	"leadline/ingest/protocol"
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

// told remembers what headers told, and what single words did.
type told struct {
	headers map[header]answers
	words   map[string]*exam
}

func nothingTold() told { return told{map[header]answers{}, map[string]*exam{}} }

// answer is an exam, nil for none, and which fact told it.
type answer struct {
	exam *exam
	fact string
}

// answers are those of Body Part Examined and of the descriptions.
type answers struct{ part, descriptions *exam }

// The facts that tell an exam, in the order in which they are asked.
const (
	byLabel        = "label"
	byPart         = "Body Part Examined"
	byRegion       = "anatomic region"
	byView         = "view"
	byDescriptions = "descriptions"
)

var facts = []string{byLabel, byPart, byRegion, byView, byDescriptions}

// of tells the exam of an image by the first fact that names one: a label, by its exam
// or its view; Body Part Examined; anatomic region; the view, wherever it was learned;
// then protocol name and descriptions. Where none does, it is not told: what the
// picture shows or who scanned says nothing here.
func (l *Limits) of(img *analyse.Image, known told) answer {
	key := header{img.Study, img.Series}
	series, ok := known.headers[key]
	if !ok {
		series = answers{part: l.byTexts(img.Series.BodyPart), descriptions: l.byTexts(img.Descriptions()...)}
		known.headers[key] = series
	}
	ofView := known.word(l, protocol.AreaOf(img.ViewID))
	labelled := known.word(l, img.Exam)
	if labelled == nil && img.ViewSource == analyse.ViewOfLabel {
		labelled = ofView
	}
	var region *exam
	if labelled == nil && series.part == nil { // regions are read image by image
		region = l.byRegions(img.Instance.Image.AnatomicRegions)
	}
	for _, a := range []answer{{labelled, byLabel}, {series.part, byPart}, {region, byRegion}, {ofView, byView}, {series.descriptions, byDescriptions}} {
		if a.exam != nil {
			return a
		}
	}
	return answer{}
}

func (l *Limits) byRegions(regions []ingest.Code) *exam {
	for _, c := range regions {
		if e := l.byTexts(c.Meaning); e != nil {
			return e
		}
	}
	return nil
}

// word is the exam that a text names, looked for once.
func (t *told) word(l *Limits, text string) *exam {
	if text == "" {
		return nil
	}
	e, ok := t.words[text]
	if !ok {
		e = l.byTexts(text)
		t.words[text] = e
	}
	return e
}

func (l *Limits) byTexts(texts ...string) *exam {
	for i := range l.exams {
		for _, text := range texts {
			if text != "" && slices.ContainsFunc(l.exams[i].words, func(w string) bool { return terms.Contains(text, w) }) {
				return &l.exams[i]
			}
		}
	}
	return nil
}

// valueOf is an index as the header of an image gives it, and whether it is set aside:
// no reading of any index. A thermal index of soft tissue is the largest of its kinds.
// Absent stays absent.
func valueOf(img *analyse.Image, index ingest.AcousticIndex) (v ingest.Optional[float64], aside bool) {
	v = given(img, index)
	if v.Set && (analyse.OutputIndex{Name: index, Value: v.Value}).Absurd() {
		return ingest.Optional[float64]{}, true
	}
	return v, false
}

func given(img *analyse.Image, index ingest.AcousticIndex) ingest.Optional[float64] {
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
