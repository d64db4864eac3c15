// Package overview counts what a result holds, for summaries: what was read, what
// is complete, what differs, what to look at first. It counts, orders and takes
// medians; it computes no value of its own.
package overview

import (
	"sort"

	"leadline/analyse"
	"leadline/ingest"
)

// Overview is a result in numbers.
type Overview struct {
	// Files is the number of files met, the sum of Outcomes.
	Files    int
	Outcomes []Outcome

	Studies, Images, Stills, Clips, Reports, Presentations int
	Measurements, Rebuilt                                  int
	// Verdicts count measurements; their sum is Measurements.
	Verdicts []Verdict

	// Assessed counts the studies that a protocol applied to, Complete those of
	// them that meet all that they need.
	Assessed, Complete int
	// Hidden tells that Assessed and Complete may not be shown, because cells are small.
	Hidden bool
	// Shortfalls are protocol items that some study lacks, the most lacked first.
	Shortfalls []Shortfall

	// Times are when studies were made and documented.
	Times Times
	// Actions counts the rows of the list of actions.
	Actions int

	Errors, Warnings, Notes int
	// Findings are grouped by id, the most severe and then the most frequent first.
	Findings []Finding
	// Worst are studies with errors, most errors first, at most WorstStudies.
	Worst []*analyse.Study
}

// WorstStudies is how many studies Overview.Worst names at most: a list that one
// person can go through in a sitting.
const WorstStudies = 10

// Outcome counts the files with one outcome.
type Outcome struct {
	Outcome ingest.Outcome
	Files   int
}

// Verdict counts the measurements with one verdict.
type Verdict struct {
	Verdict      analyse.Verdict
	Measurements int
}

// Shortfall is one required item of a protocol and how the studies stand on it.
// Applied is the number of studies it was asked of.
type Shortfall struct {
	Protocol, Item, Kind, Title                   string
	Applied, Met, Partial, Missing, NotAssessable int
	// Hidden tells that the counts may not be shown.
	Hidden bool
}

// Finding groups the findings of one id.
type Finding struct {
	ID       string
	Severity analyse.Severity
	Count    int
	// Studies is how many studies it occurs in.
	Studies int
	// Hidden tells that Count and Studies may not be shown.
	Hidden bool
	// Title says what it is, Example is the message of the first, Advice what to do
	// next.
	Title, Example, Advice string
}

// Of counts a result.
func Of(r *analyse.Result) Overview {
	o := Overview{Files: len(r.Ledger), Studies: len(r.Studies)}
	o.countFiles(r.Ledger)
	verdicts := map[analyse.Verdict]int{}
	shortfalls := map[itemKey]*Shortfall{}
	for _, s := range r.Studies {
		o.countStudy(s)
		for i := range s.Measurements {
			verdicts[s.Measurements[i].Verdict]++
		}
		for _, item := range s.Items {
			countItem(shortfalls, item)
		}
	}
	for _, v := range analyse.Verdicts {
		o.Verdicts = append(o.Verdicts, Verdict{v, verdicts[v]})
	}
	o.Shortfalls = lacking(shortfalls)
	o.countFindings(r.Findings)
	o.Times, o.Actions = timesOf(r), len(r.Actions)
	o.Worst = worst(r.Studies)
	o.hide(r)
	return o
}

func (o *Overview) countFiles(ledger []ingest.Entry) {
	files := map[ingest.Outcome]int{}
	for i := range ledger {
		files[ledger[i].Outcome]++
	}
	for _, outcome := range ingest.Outcomes {
		o.Outcomes = append(o.Outcomes, Outcome{outcome, files[outcome]})
	}
}

func (o *Overview) countStudy(s *analyse.Study) {
	o.Images += s.Totals.Images
	o.Stills += s.Totals.Stills
	o.Clips += s.Totals.Clips
	o.Reports += len(s.Reports)
	o.Presentations += len(s.Presentations)
	o.Measurements += len(s.Measurements)
	o.Rebuilt += s.Totals.Rebuilt
	if complete, ok := s.Totals.Complete.Get(); ok {
		o.Assessed++
		if complete {
			o.Complete++
		}
	}
}

func (o *Overview) countFindings(findings []analyse.Finding) {
	groups := map[string]*Finding{}
	studies := map[[2]string]bool{}
	for i := range findings {
		f := &findings[i]
		switch f.Severity {
		case analyse.Error:
			o.Errors++
		case analyse.Warning:
			o.Warnings++
		default:
			o.Notes++
		}
		g, ok := groups[f.ID]
		if !ok {
			g = &Finding{ID: f.ID, Severity: f.Severity, Title: f.Title, Example: f.Message, Advice: f.Advice}
			groups[f.ID] = g
		}
		g.Count++
		if key := [2]string{f.ID, f.StudyUID}; f.StudyUID != "" && !studies[key] {
			studies[key] = true
			g.Studies++
		}
	}
	for _, g := range groups {
		o.Findings = append(o.Findings, *g)
	}
	sort.Slice(o.Findings, func(i, j int) bool {
		a, b := o.Findings[i], o.Findings[j]
		if a.Severity != b.Severity {
			return a.Severity.Rank() < b.Severity.Rank()
		}
		if a.Count != b.Count {
			return a.Count > b.Count
		}
		return a.ID < b.ID
	})
}

// worst lists the studies with errors, most first; warnings, then the order of
// the result, decide between equals.
func worst(all []*analyse.Study) []*analyse.Study {
	var studies []*analyse.Study
	for _, s := range all {
		if s.Totals.Errors > 0 {
			studies = append(studies, s)
		}
	}
	sort.SliceStable(studies, func(i, j int) bool {
		a, b := studies[i].Totals, studies[j].Totals
		if a.Errors != b.Errors {
			return a.Errors > b.Errors
		}
		return a.Warnings > b.Warnings
	})
	return studies[:min(len(studies), WorstStudies)]
}
