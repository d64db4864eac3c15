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

// Rows counts the images of studies by exam, device and month against each limit of the
// exam. What lies above a limit comes first, then what lies below, then exams without
// limits, and last the images whose headers do not give the index: of these the months
// of an exam and device are one row. Of a ladder of limits only the lowest has a row
// where nothing lies above the others.
func (l *Limits) Rows(studies []*analyse.Study) []analyse.AcousticRow {
	groups := map[group]*members{}
	known := nothingTold()
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
			groups[g].add(member{s, img}, a.fact)
		}
	}
	return l.inOrder(groups)
}

func (m *members) add(img member, fact string) {
	m.images = append(m.images, img)
	if fact != "" {
		m.facts[fact] = true
	}
}

func (l *Limits) place(e *exam) int {
	for i := range l.exams {
		if &l.exams[i] == e {
			return i
		}
	}
	return len(l.exams)
}

// mute is an index of an exam and device that no image of some month gives.
type mute struct {
	exam   int
	device string
	index  ingest.AcousticIndex
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
	silent := map[mute]*members{}
	var order []mute
	for _, g := range keys {
		m := groups[g]
		for _, index := range l.indices(g.exam) {
			if m.gives(index) {
				rows = append(rows, l.against(m, g, index)...)
				continue
			}
			key := mute{g.exam, g.device, index}
			if silent[key] == nil {
				silent[key] = &members{device: m.device, facts: map[string]bool{}}
				order = append(order, key)
			}
			silent[key].join(m)
		}
	}
	slices.SortStableFunc(rows, func(a, b analyse.AcousticRow) int { return cmp.Compare(standing(&a), standing(&b)) })
	for _, key := range order {
		rows = append(rows, silent[key].row(group{key.exam, key.device, ""}, l.name(key.exam), key.index, nil))
	}
	return rows
}

// standing is the place of a row among those with the index.
func standing(r *analyse.AcousticRow) int {
	switch {
	case r.Above > 0:
		return 0
	case r.Limit != nil:
		return 1
	}
	return 2
}

func (l *Limits) name(exam int) string {
	if exam == len(l.exams) {
		return ""
	}
	return l.exams[exam].id
}

// indices are those that images of an exam are counted for, each once.
func (l *Limits) indices(exam int) []ingest.AcousticIndex {
	if exam == len(l.exams) {
		return unlimited
	}
	var out []ingest.AcousticIndex
	for i := range l.exams[exam].limits {
		if index := l.exams[exam].limits[i].Index; !slices.Contains(out, index) {
			out = append(out, index)
		}
	}
	return out
}

// against holds a group against the limits of one index.
func (l *Limits) against(m *members, g group, index ingest.AcousticIndex) []analyse.AcousticRow {
	if g.exam == len(l.exams) {
		return []analyse.AcousticRow{m.row(g, "", index, nil)}
	}
	e := &l.exams[g.exam]
	var rows []analyse.AcousticRow
	for i := range e.limits {
		if e.limits[i].Index != index {
			continue
		}
		if r := m.row(g, e.id, index, &e.limits[i]); len(rows) == 0 || r.Above > 0 {
			rows = append(rows, r)
		}
	}
	return rows
}

// gives tells that some image holds the index, be it an absurd one.
func (m *members) gives(index ingest.AcousticIndex) bool {
	return slices.ContainsFunc(m.images, func(img member) bool { return given(img.Image, index).Set })
}

func (m *members) join(other *members) {
	m.images = append(m.images, other.images...)
	for f := range other.facts {
		m.facts[f] = true
	}
}

// row counts the images of a group against one limit, nil for none.
func (m *members) row(g group, id string, index ingest.AcousticIndex, limit *ingest.AcousticLimit) analyse.AcousticRow {
	r := analyse.AcousticRow{Exam: id, Told: m.toldBy(), Device: m.device, Month: g.month, Index: index, Limit: limit, Images: len(m.images)}
	studies, aboveS := map[*analyse.Study]bool{}, map[*analyse.Study]float64{}
	var values []float64
	for _, img := range m.images {
		studies[img.study] = true
		value, aside := valueOf(img.Image, index)
		if aside {
			r.SetAside++
		}
		v, ok := value.Get()
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
	var told []string
	for _, f := range facts {
		if m.facts[f] {
			told = append(told, f)
		}
	}
	return strings.Join(told, "; ")
}
