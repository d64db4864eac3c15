// Package actions makes of findings and protocol items the list that a meeting goes
// through: what to do, the first first, in words that need no explanation. What has
// one cause is one row: all that one study lacks, all images that one device spoils in
// several studies.
package actions

import (
	"cmp"
	"slices"
	"strings"

	"leadline/analyse"
	"leadline/ingest"
)

// Of makes the list. checks are those of all findings: they give titles, and tell what
// is of a device. Rows stand by class, within it
// those of most studies first, then those met most often, then by the order of the
// studies. A study has one row in a class at most, and so no more than five.
func Of(result *analyse.Result, checks []analyse.Check) []analyse.Action {
	l := &list{checks: map[string]*analyse.Check{}, studies: map[string]*analyse.Study{}, place: map[*analyse.Study]int{}, rows: map[key]*row{}, images: imagesNamed(result)}
	for i := range checks {
		l.checks[checks[i].ID] = &checks[i]
	}
	for i, s := range result.Studies {
		l.studies[s.UID], l.place[s] = s, i
		l.items(s)
	}
	for i := range result.Findings {
		l.finding(&result.Findings[i])
	}
	l.fold()
	for i := range result.Clocks {
		l.clock(&result.Clocks[i])
	}
	return l.sorted()
}

// imagesNamed are the images that findings name, by SOP Instance UID. They are looked for
// once, for findings come kind by kind, and each kind goes through all studies.
func imagesNamed(result *analyse.Result) map[string]*analyse.Image {
	named := map[string]*analyse.Image{}
	for i := range result.Findings {
		named[result.Findings[i].SOPUID] = nil
	}
	for _, s := range result.Studies {
		for _, img := range s.Images {
			if _, is := named[img.SOPInstanceUID]; is {
				named[img.SOPInstanceUID] = img
			}
		}
	}
	return named
}

// list gathers rows.
type list struct {
	checks  map[string]*analyse.Check
	studies map[string]*analyse.Study
	place   map[*analyse.Study]int
	rows    map[key]*row
	// images are those that findings name, by UID.
	images map[string]*analyse.Image
	// met counts the faults.
	met int
}

// key tells rows apart: by study, or by device and finding, or by finding alone.
type key struct {
	class      analyse.ActionClass
	study      *analyse.Study
	device, id string
}

// row is an action while it is gathered.
type row struct {
	key
	on      *ingest.Device
	faults  []fault
	studies map[string]bool
	times   int
	// devices counts the devices of a row that is about several.
	devices int
	files   []string
}

// fault is one kind of fault of a row: what is wrong, on which images, and what to do.
type fault struct {
	id, words, todo string
	// reason is why, told where the fault was met once.
	reason   string
	severity analyse.Severity
	times    int
	images   []int64
	// place is when the fault was first met: the order of protocol items and of
	// findings, which are sorted.
	place int
}

// row finds or begins a row.
func (l *list) row(k key, on *ingest.Device) *row {
	r := l.rows[k]
	if r == nil {
		r = &row{key: k, on: on, studies: map[string]bool{}}
		l.rows[k] = r
	}
	return r
}

// fault finds or begins a fault of the row.
func (l *list) fault(r *row, id, words, todo string) *fault {
	for i := range r.faults {
		if r.faults[i].id == id {
			return &r.faults[i]
		}
	}
	l.met++
	r.faults = append(r.faults, fault{id: id, words: words, todo: todo, place: l.met})
	return &r.faults[len(r.faults)-1]
}

// fold puts what a device did in one study only into the row of that study.
func (l *list) fold() {
	for k, r := range l.rows {
		if k.study != nil || k.device == "" || len(r.studies) != 1 {
			continue
		}
		delete(l.rows, k)
		for uid := range r.studies {
			at := key{class: k.class, study: l.studies[uid]}
			if k.class == analyse.ActionDevice {
				at.class = analyse.ActionDoubtful
			}
			l.row(at, nil).take(r)
		}
	}
}

// take adds the faults of another row.
func (r *row) take(other *row) {
	r.faults = append(r.faults, other.faults...)
	r.times += other.times
	for uid := range other.studies {
		r.studies[uid] = true
	}
}

// sorted writes the rows down in their order.
func (l *list) sorted() []analyse.Action {
	rows := make([]*row, 0, len(l.rows))
	for _, r := range l.rows {
		rows = append(rows, r)
	}
	place := func(r *row) int {
		if r.study == nil {
			return -1
		}
		return l.place[r.study]
	}
	slices.SortFunc(rows, func(a, b *row) int {
		return cmp.Or(cmp.Compare(a.class, b.class), -cmp.Compare(len(a.studies), len(b.studies)), -cmp.Compare(a.times, b.times),
			cmp.Compare(place(a), place(b)), cmp.Compare(a.device, b.device), cmp.Compare(a.id, b.id))
	})
	actions := make([]analyse.Action, len(rows))
	for i, r := range rows {
		actions[i] = r.action(i + 1)
	}
	return actions
}

func (r *row) action(order int) analyse.Action {
	// The most severe come first, then those met most often; the order of the map that they came from does
	// not show.
	slices.SortFunc(r.faults, func(a, b fault) int {
		return cmp.Or(cmp.Compare(a.severity.Rank(), b.severity.Rank()), cmp.Compare(b.times, a.times), cmp.Compare(a.place, b.place))
	})
	a := analyse.Action{Order: order, Class: r.class, Study: r.study, Device: r.on, Studies: len(r.studies), Times: r.times, Files: r.files}
	if r.study != nil && len(r.study.Devices) > 0 {
		a.Device = r.study.Devices[0]
	}
	a.Problem, a.Todo = r.problem(), r.todo()
	return a
}

// sentence begins with a capital and ends with a full stop.
func sentence(s string) string {
	s = strings.TrimSpace(s)
	if s == "" {
		return ""
	}
	first := []rune(s)
	s = strings.ToUpper(string(first[:1])) + string(first[1:])
	if strings.HasSuffix(s, ".") || strings.HasSuffix(s, "?") {
		return s
	}
	return s + "."
}
