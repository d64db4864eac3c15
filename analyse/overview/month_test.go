package overview

import (
	"strings"
	"testing"

	"leadline/analyse"
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
