package export

import (
	"sync"

	"leadline/analyse"
	"leadline/analyse/overview"
	"leadline/export/deid"
	"leadline/ingest"
)

// Options are the settings of an export.
type Options struct {
	// Identity says how much of who and where is written; empty means study.
	Identity deid.Identity
	// Key makes the pseudonyms of identity none reproducible: same input and same
	// key, same bytes. Without it every run has a random key of its own, and two
	// outputs cannot be joined.
	Key []byte
	// Version of the program, for the overview.
	Version string
}

// Book is everything a run writes, in no format yet. The tables of one Book
// share their pseudonyms: make one Book for all outputs of a run.
type Book struct {
	Identity deid.Identity
	// Title is the title of the document.
	Title string
	// Tables of an audit are in the order of the design: files, studies, images,
	// measurements, indices, completeness, regions, findings, then those added since,
	// the codebook last.
	Tables []Table
	// Overview is what a reader sees first, Method how it was computed.
	Overview, Method []Section
	// Meeting is what a group looks at together, nil where there is nothing.
	Meeting *Meeting
	writer  *writer
}

// Meeting is a sheet of charts with what they say in a few sentences. Of its charts the
// first Most are drawn.
type Meeting struct {
	Title  string
	Lines  []string
	Charts []analyse.Chart
	Most   int
}

// Tables makes the tables of a result; see Book for what else there is.
func Tables(result *analyse.Result, opts Options) []Table { return NewBook(result, opts).Tables }

// NewBook prepares a result for writing. The result must not change while the
// tables are written: their rows are made when they are asked for.
func NewBook(result *analyse.Result, opts Options) *Book {
	if opts.Identity == "" {
		opts.Identity = deid.Study
	}
	w := newWriter(result, deid.New(opts.Identity, opts.Key))
	tables := []Table{
		w.files(), w.studies(), w.images(), w.measurements(), w.indices(),
		w.completeness(), w.regions(), w.findings(), w.agreement(),
		w.rates(), w.charts(result.Month.Charts, false), w.differences(), w.actions(), w.timing(), w.clocks(),
	}
	if result.Pictures {
		tables = append(tables, w.rulers())
	}
	return &Book{
		Identity: opts.Identity,
		Title:    "Leadline audit",
		Meeting:  w.meeting(),
		Tables:   append(tables, codebook(w.rules, tables)),
		Overview: w.overview(overview.Of(result), opts.Version),
		Method:   method(),
		writer:   w,
	}
}

// writer holds what all tables need of a result.
type writer struct {
	result  *analyse.Result
	rules   *deid.Rules
	rows    []*studyRow
	byUID   map[string]*studyRow
	devices map[*ingest.Device]string
	naming  sync.Mutex
}

// studyRow is a study with its number in the order of studies.csv and its
// patient as far as the rules need it.
type studyRow struct {
	*analyse.Study
	n       int
	about   *deid.Subject
	devices string
}

func newWriter(result *analyse.Result, rules *deid.Rules) *writer {
	w := &writer{result: result, rules: rules, byUID: map[string]*studyRow{}, devices: map[*ingest.Device]string{}}
	for _, s := range result.Studies {
		row := &studyRow{Study: s, about: rules.Subject(s.UID, patientsOf(s)...)}
		w.byUID[s.UID] = row
		w.rows = append(w.rows, row)
	}
	w.order()
	for i, row := range w.rows {
		row.n = i + 1
		w.meet(row.Study)
		row.devices = w.deviceOf(row)
	}
	subjects := map[string]*deid.Subject{}
	for _, s := range result.OutOfRange {
		subjects[s.UID] = rules.Subject(s.UID, patientsOf(s)...)
	}
	for _, r := range w.rows {
		subjects[r.UID] = r.about
	}
	for i := range result.Ledger {
		w.rules.MeetPath(subjects[result.Ledger[i].StudyUID], result.Ledger[i].Path)
	}
	w.meetFiles(subjects)
	return w
}

// meetFiles looks for any patient's name in the files that findings list, and in the
// folders of earlier audits: those that were not met belong to no study that is known.
func (w *writer) meetFiles(subjects map[string]*deid.Subject) {
	for i := range w.result.Findings {
		files := w.result.Findings[i].Files
		for _, file := range files[:min(len(files), shownFiles)] {
			for _, s := range subjects {
				w.rules.MeetPath(s, file)
			}
		}
	}
	for _, a := range w.result.Month.Earlier {
		for _, s := range subjects {
			w.rules.MeetPath(s, a.Name)
		}
	}
}

// meet numbers the people of a study: who scanned, then who measured.
func (w *writer) meet(s *analyse.Study) {
	for _, name := range s.Operators {
		w.rules.Meet(name)
	}
	for i := range s.Measurements {
		w.rules.Meet(s.Measurements[i].Observer)
	}
}

// patientsOf lists the different patients met in a study, its own first.
func patientsOf(s *analyse.Study) []deid.Identifiers {
	var out []deid.Identifiers
	seen := map[*ingest.Patient]bool{nil: true}
	add := func(p *ingest.Patient) {
		if !seen[p] {
			seen[p] = true
			out = append(out, deid.Identifiers{Name: p.Name, ID: p.ID, BirthDate: p.BirthDate})
		}
	}
	add(s.Patient)
	for _, img := range s.Images {
		add(img.Patient)
	}
	for _, group := range [][]*ingest.Instance{s.Reports, s.Presentations, s.Others} {
		for _, inst := range group {
			add(inst.Patient)
		}
	}
	return out
}

// aboutUID is the subject of a study, nil where the UID is of none.
func (w *writer) aboutUID(uid string) *deid.Subject {
	if row := w.byUID[uid]; row != nil {
		return row.about
	}
	return nil
}

// Heading is the meaning of a code in a report of a study, by the rules of labels:
// a code of a private scheme may mean what a person typed.
func (b *Book) Heading(studyUID string, c ingest.Code) string {
	rule, subject := deid.Words, (*deid.Subject)(nil)
	if public(c.Scheme) {
		rule = deid.Keep
	}
	if row := b.writer.byUID[studyUID]; row != nil {
		subject = row.about
	}
	if text := b.writer.rules.Text(rule, subject, clean(c.Meaning)); text != "" {
		return text
	}
	return "(no heading to show)"
}
