package checks

import (
	"strings"
	"testing"

	"leadline/analyse"
)

// TestSurvived: a fault in judging one study is its finding, without what it said.
func TestSurvived(t *testing.T) {
	s := &analyse.Study{UID: "2.25.1"}
	got := survived(s, func(*analyse.Study) []analyse.Finding { panic("Quastenflosser^Mira") })
	if len(got) != 1 || got[0].ID != "study-not-judged" || got[0].StudyUID != s.UID || got[0].Severity != analyse.Error || s.Totals.Errors != 1 {
		t.Errorf("%+v, errors %d", got, s.Totals.Errors)
	}
	if strings.Contains(got[0].Message, "Quastenflosser") {
		t.Errorf("the message tells a value: %s", got[0].Message)
	}
	fine := []analyse.Finding{{ID: "item-missing"}}
	if got := survived(s, func(*analyse.Study) []analyse.Finding { return fine }); len(got) != 1 || got[0].ID != "item-missing" {
		t.Errorf("findings of a study judged as it should be: %+v", got)
	}
}
