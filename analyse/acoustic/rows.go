package acoustic

import (
	"cmp"
	"slices"
	"strings"

	"leadline/analyse"
	"leadline/ingest"
)

// group is what rows are made of.
type group struct {
	exam          int // place in the table, beyond it where none was told
	device, month string
}

// members are the images of a group.
type members struct {
	device *ingest.Device
	facts  map[string]bool
	images []member
}

type member struct {
	study *analyse.Study
	*analyse.Image
}

// unlimited are the indices that are counted for an exam without limits.
var unlimited = []ingest.AcousticIndex{ingest.IndexMI, ingest.IndexTI}

// Rows counts the images of studies by exam, device and month, in that order: one row
// for each limit of the exam. Images of an exam that the table has no limit for, or
// whose header told none, are counted without a limit.
func (l *Limits) Rows(studies []*analyse.Study) []analyse.AcousticRow {
	groups := map[group]*members{}
	known := told{}
	for _, s := range studies {
		month := ""
		if !s.Start.IsZero() {
			month = s.Start.Reading().Format("2006-01")
		}
		for _, img := range s.Images {
			if !img.Ultrasound() {
				continue
			}
			a := l.of(img, known)
			g := group{l.place(a.exam), analyse.DeviceName(img.Device), month}
			if groups[g] == nil {
				groups[g] = &members{device: img.Device, facts: map[string]bool{}}
			}
			m := groups[g]
			m.images = append(m.images, member{s, img})
			if a.fact != "" {
				m.facts[a.fact] = true
			}
		}
	}
	return l.inOrder(groups)
}

func (l *Limits) place(e *exam) int {
	for i := range l.exams {
		if &l.exams[i] == e {
			return i
		}
	}
	return len(l.exams)
}

func (l *Limits) inOrder(groups map[group]*members) []analyse.AcousticRow {
	keys := make([]group, 0, len(groups))
	for g := range groups {
		keys = append(keys, g)
	}
	slices.SortFunc(keys, func(a, b group) int {
		return cmp.Or(cmp.Compare(a.exam, b.exam), cmp.Compare(a.device, b.device), cmp.Compare(a.month, b.month))
	})
	var rows []analyse.AcousticRow
	for _, g := range keys {
		m := groups[g]
		if g.exam == len(l.exams) {
			for _, index := range unlimited {
				rows = append(rows, m.row(g, "", index, nil))
			}
			continue
		}
		e := &l.exams[g.exam]
		for i := range e.limits {
			rows = append(rows, m.row(g, e.id, e.limits[i].Index, &e.limits[i]))
		}
	}
	return rows
}

// row counts the images of a group against one limit, nil for none.
func (m *members) row(g group, id string, index ingest.AcousticIndex, limit *ingest.AcousticLimit) analyse.AcousticRow {
	r := analyse.AcousticRow{Exam: id, Told: m.toldBy(), Device: m.device, Month: g.month, Index: index, Limit: limit, Images: len(m.images)}
	studies, aboveS := map[*analyse.Study]bool{}, map[*analyse.Study]float64{}
	var values []float64
	for _, img := range m.images {
		studies[img.study] = true
		v, ok := valueOf(img.Image, index).Get()
		if !ok {
			continue
		}
		values = append(values, v)
		above := limit != nil && v > limit.Above
		if above {
			r.Above++
		}
		switch d, timed := img.DurationS.Get(); {
		case timed:
			r.Clips++
			r.ClipS += d
			if above {
				r.AboveS += d
				aboveS[img.study] += d
			}
		case img.Kind == analyse.Clip:
			r.Untimed++
		}
	}
	r.Studies, r.With = len(studies), len(values)
	spread(&r, values)
	longest(&r, aboveS)
	return r
}

// spread fills what follows from the values.
func spread(r *analyse.AcousticRow, values []float64) {
	if len(values) == 0 {
		return
	}
	slices.Sort(values)
	n := len(values)
	r.Median = ingest.Some((values[(n-1)/2] + values[n/2]) / 2)
	r.Max = ingest.Some(values[n-1])
	if r.Limit != nil {
		r.Share = ingest.Some(float64(r.Above) / float64(n))
	}
}

// longest fills the times above the limit, from those of each study.
func longest(r *analyse.AcousticRow, studies map[*analyse.Study]float64) {
	for _, seconds := range studies {
		r.LongestS = max(r.LongestS, seconds)
		if r.Limit.Minutes.Set && seconds > 60*r.Limit.Minutes.Value {
			r.Beyond++
		}
	}
}

func (m *members) toldBy() string {
	var facts []string
	for _, f := range []string{"Body Part Examined", "anatomic region", "descriptions"} {
		if m.facts[f] {
			facts = append(facts, f)
		}
	}
	return strings.Join(facts, "; ")
}
