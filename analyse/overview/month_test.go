package overview

import (
	"strings"
	"testing"

	"leadline/analyse"
	"leadline/analyse/checks"
	"leadline/ingest"
)

// TestSignalWords: a signal is told by title, period and rule in words, and by its
// protocol where there are several.
func TestSignalWords(t *testing.T) {
	chart := func(protocol string) analyse.Chart {
		return analyse.Chart{Protocol: protocol, Subject: "complete-studies", Title: "Complete studies by week", Points: []analyse.ChartPoint{
			{Label: "2026-W29", Centre: ingest.Some(.9), Signals: []string{"beyond-limits", "long-run"}}, {Label: "2026-W30", Centre: ingest.Some(.9)}}}
	}
	const words = "Complete studies by week, 2026-W29: one point beyond a three-sigma limit and a run on one side of the median longer than chance gives"
	one := &analyse.Result{Month: analyse.Month{Charts: []analyse.Chart{chart("heart")}}}
	if got, want := signalLine(one, true), "Signals: "+words+"."; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	two := &analyse.Result{Protocols: []analyse.ProtocolUse{{Name: "lung", Title: "Lung study"}}, Month: analyse.Month{Charts: []analyse.Chart{chart("heart"), chart("lung")}}}
	if got := signalLine(two, true); !strings.Contains(got, "heart, "+words) || !strings.Contains(got, "Lung study, "+words) {
		t.Error(got)
	}
}

// TestHide: counts of studies below the least cell, what is left of all studies beside
// them, and items and protocols whose rates are left out are marked, and no other.
func TestHide(t *testing.T) {
	r := &analyse.Result{Month: analyse.Month{MinCell: 5, Rates: []analyse.GroupRate{
		{Protocol: "p", Item: "left-out", Of: analyse.ItemMet, By: analyse.ByItem, Proportion: analyse.Proportion{Suppressed: true}},
	}}}
	o := Overview{Studies: 20}
	for _, c := range []struct{ missing, partial int }{{5, 0}, {0, 5}, {4, 6}, {6, 4}, {5, 5}} {
		o.Shortfalls = append(o.Shortfalls, Shortfall{Protocol: "p", Item: "shown", Missing: c.missing, Partial: c.partial})
	}
	o.Shortfalls = append(o.Shortfalls, Shortfall{Protocol: "p", Item: "left-out", Missing: 5})
	for _, studies := range []int{4, 5, 15, 16, 20} {
		o.Findings = append(o.Findings, Finding{ID: checks.ItemMissing.ID, Studies: studies}, Finding{ID: checks.FileUnreadable.ID, Studies: studies})
	}
	o.hide(r)
	for i, want := range []bool{false, false, true, true, false, true} {
		if s := o.Shortfalls[i]; s.Hidden != want {
			t.Errorf("%+v, want %t", s, want)
		}
	}
	for i, want := range []bool{true, false, false, true, false} {
		if f := o.Findings[2*i]; f.Hidden != want || o.Findings[2*i+1].Hidden {
			t.Errorf("%+v, want %t; another check: %t", f, want, o.Findings[2*i+1].Hidden)
		}
	}
	if o.Hidden {
		t.Error("counts of a protocol are hidden that is not left out")
	}
	r.Protocols = append(r.Protocols, analyse.ProtocolUse{Name: "p"})
	r.Month.Rates = append(r.Month.Rates, analyse.GroupRate{Protocol: "p", Of: analyse.CompleteStudies, By: analyse.ByProtocol, Proportion: analyse.Proportion{Suppressed: true}})
	if o.hide(r); !o.Hidden {
		t.Error("counts of a protocol that is left out are shown")
	}
}
