package main

import (
	"fmt"
	"slices"
	"strings"

	"leadline/analyse"
	"leadline/analyse/audit"
	"leadline/analyse/physical"
	"leadline/export/steps"
)

// derived is one index with the steps that led to its uncertainty.
type derived struct {
	Index string       `json:"index"`
	Steps []steps.Line `json:"steps"`
	title string
	work  *physical.Work
}

func (v *fileView) explainIndices(s *analyse.Study) {
	audit.ExplainIndices(s, func(x *analyse.Index, w *physical.Work) {
		v.Indices = append(v.Indices, derived{x.ID, steps.Lines(w), x.Title, w})
	})
}

// indices prints each with its steps. They follow from the files shown alone.
func (v *fileView) indices(b *strings.Builder) {
	for _, r := range v.rows("indices") {
		fmt.Fprintln(b)
		at := slices.IndexFunc(v.Indices, func(d derived) bool { return d.Index == r["index"] })
		b.WriteString(steps.Wrap(fmt.Sprintf("Index %s: %s", r["index"], v.Indices[at].title), 0))
		value := strings.TrimSuffix(fmt.Sprintf("%s ± %s %s", r["value"], r["uncertainty"], r["unit"]), " 1")
		b.WriteString(steps.Wrap("from the files shown alone: "+value, 2))
		b.WriteString(steps.Wrap(r["formula"], 2))
		if r["note"] != "" {
			b.WriteString(steps.Wrap("note: "+r["note"], 2))
		}
		b.WriteString(steps.Text(v.Indices[at].work))
		b.WriteString(steps.Wrap("Rounded to two digits of U (JCGM 100, 7.2.6): "+value, 2))
	}
}
