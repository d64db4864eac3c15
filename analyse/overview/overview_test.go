package overview

import (
	"testing"

	"leadline/analyse"
	"leadline/ingest"
)

func study(uid string, errors, warnings int, complete ingest.Optional[bool]) *analyse.Study {
	return &analyse.Study{UID: uid, Totals: analyse.Totals{Images: 3, Stills: 2, Clips: 1, Errors: errors, Warnings: warnings, Complete: complete}}
}

func TestOf(t *testing.T) {
	yes, no := ingest.Optional[bool]{Value: true, Set: true}, ingest.Optional[bool]{Set: true}
	a, b, c := study("a", 1, 0, no), study("b", 2, 0, yes), study("c", 0, 9, ingest.Optional[bool]{})
	d := study("d", 1, 4, no)
	a.Items = []*analyse.ItemResult{
		{Protocol: "p", Item: "one", Required: true, Status: analyse.Missing},
		{Protocol: "p", Item: "two", Required: true, Status: analyse.Met},
		{Protocol: "p", Item: "optional", Status: analyse.Missing},
		{Protocol: "p", Item: "three", Required: true, Status: analyse.NotApplicable},
	}
	b.Items = []*analyse.ItemResult{
		{Protocol: "p", Item: "one", Required: true, Status: analyse.Partial},
		{Protocol: "p", Item: "two", Required: true, Status: analyse.Partial},
	}
	a.Measurements = []analyse.Measurement{{Verdict: analyse.VerdictAgrees}, {Verdict: analyse.VerdictDiffers}}
	o := Of(&analyse.Result{
		Ledger:  []ingest.Entry{{Outcome: ingest.OutcomeImage}, {Outcome: ingest.OutcomeImage}, {Outcome: ingest.OutcomeNotDICOM}},
		Studies: []*analyse.Study{a, b, c, d},
		Findings: []analyse.Finding{
			{ID: "rare", Severity: analyse.Error, StudyUID: "a"},
			{ID: "often", Severity: analyse.Warning, StudyUID: "a"},
			{ID: "often", Severity: analyse.Warning, StudyUID: "a"},
			{ID: "often", Severity: analyse.Warning},
		},
	})
	sum := 0
	for _, n := range o.Outcomes {
		sum += n.Files
	}
	if o.Files != 3 || sum != o.Files {
		t.Errorf("files %d, sum of outcomes %d", o.Files, sum)
	}
	if o.Assessed != 3 || o.Complete != 1 || o.Images != 12 || o.Measurements != 2 {
		t.Errorf("counts: %+v", o)
	}
	if len(o.Worst) != 3 || o.Worst[0] != b || o.Worst[1] != d || o.Worst[2] != a {
		t.Errorf("worst studies out of order")
	}
	if len(o.Findings) != 2 || o.Findings[0].ID != "rare" || o.Findings[1].Count != 3 || o.Findings[1].Studies != 1 {
		t.Errorf("findings: %+v", o.Findings)
	}
	if len(o.Shortfalls) != 2 || o.Shortfalls[0].Item != "one" || o.Shortfalls[0].Missing != 1 || o.Shortfalls[0].Partial != 1 ||
		o.Shortfalls[1].Met != 1 || o.Shortfalls[1].Applied != 2 {
		t.Errorf("shortfalls: %+v", o.Shortfalls)
	}
}
