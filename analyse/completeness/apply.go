package completeness

import (
	"strings"

	"leadline/analyse"
	"leadline/ingest/protocol"
)

// Apply holds a study against a protocol. Where the protocol does not apply
// (Applies), results is nil. Otherwise there is one result for each item, in the
// order of the protocol. Measurements and Indices of the study must be filled in
// before.
func Apply(study *analyse.Study, p *protocol.Protocol) (results []analyse.ItemResult, applies bool) {
	if _, ok := Applies(study, p); !ok {
		return nil, false
	}
	v := newView(study)
	v.claim(p)
	results = make([]analyse.ItemResult, len(p.Items))
	for i := range p.Items {
		results[i] = v.item(p, &p.Items[i])
	}
	return results, true
}

// outcome is how a study stands against one rule.
type outcome struct {
	status        analyse.ItemStatus
	found, needed int
	evidence      []string
	note          string
}

func (v *view) item(p *protocol.Protocol, it *protocol.Item) analyse.ItemResult {
	result := analyse.ItemResult{
		Protocol: p.Name, Item: it.ID, Kind: string(it.Kind()), Title: it.Title, ProtocolTitle: p.Title, Required: it.Required,
		Severity: severityOf(it),
	}
	o := v.condition(it.If)
	if o.status == analyse.Met {
		o = v.rules(it.Rules)
	}
	result.Status, result.Found, result.Needed = o.status, o.found, o.needed
	result.Evidence, result.Note = strings.Join(o.evidence, "; "), o.note
	return result
}

// severityOf is that of a finding about the item.
func severityOf(it *protocol.Item) analyse.Severity {
	if it.Severity == "" {
		return analyse.Warning
	}
	return analyse.Severity(it.Severity)
}

// preference orders the outcomes of a group. An alternative that could not be
// judged may have been met, so it stands before one that surely fell short.
var preference = map[analyse.ItemStatus]int{analyse.Met: 0, analyse.NotAssessable: 1, analyse.Partial: 2, analyse.Missing: 3}

// rules takes the best outcome of several ways to meet an item, the first of
// equals, with the notes of all where none is met.
func (v *view) rules(rules []protocol.Rule) outcome {
	best := v.rule(&rules[0])
	notes := []string{best.note}
	for i := range rules[1:] {
		o := v.rule(&rules[i+1])
		notes = append(notes, o.note)
		if preference[o.status] < preference[best.status] {
			best = o
		}
	}
	if best.status != analyse.Met && len(rules) > 1 {
		best.note = join(notes, "; or: ")
	}
	return best
}

func (v *view) rule(r *protocol.Rule) outcome {
	switch r.Kind {
	case protocol.KindHeader:
		return v.header(r.Header)
	case protocol.KindImage:
		return v.images(r.Image)
	case protocol.KindMeasure:
		return v.measure(r.Measure)
	case protocol.KindIndex:
		return v.index(r.Index.ID)
	}
	return v.report(r.Report)
}

// condition is met where the item is to be asked for.
func (v *view) condition(c *protocol.Condition) outcome {
	met := outcome{status: analyse.Met}
	if c == nil {
		return met
	}
	no := outcome{status: analyse.NotApplicable}
	if len(c.Measures) > 0 && !v.measured(c.Measures) {
		no.note = "asked only where one of these was measured: " + list(measureTitles(c.Measures), "or")
		return no
	}
	if c.Fact != "" && v.fact(c.Fact).found == 0 {
		no.note = "asked only where the header has " + c.Fact
		return no
	}
	asked := c.Listed()
	if len(asked) == 0 {
		return met
	}
	seen, unlabelled := v.seen(&c.Shown)
	switch {
	case seen:
		return met
	case unlabelled > 0:
		return outcome{status: analyse.NotAssessable, note: "asked only where an image shows " + list(asked, "or") + ": " + unlabelledNote(unlabelled)}
	}
	no.note = "asked only where an image shows " + list(asked, "or")
	return no
}

// index asks for a derived index with a value.
func (v *view) index(id string) outcome {
	for _, x := range v.study.Indices {
		switch {
		case x.ID != id:
		case x.Value != nil:
			return outcome{status: analyse.Met, found: 1, needed: 1, evidence: x.Inputs}
		default:
			return outcome{status: analyse.Missing, needed: 1, note: x.Note}
		}
	}
	return outcome{status: analyse.Missing, needed: 1, note: "no measurement that the index needs was found"}
}
