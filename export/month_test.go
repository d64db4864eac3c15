package export_test

import (
	"strings"
	"testing"

	"leadline/export"
	"leadline/export/deid"
	"leadline/export/internal/sample"
)

// With identity none nothing stands in a true order of time or names a period: the
// dates of each patient are shifted, and a true order would undo that.
func TestNoneHasNoPeriods(t *testing.T) {
	for _, identity := range deid.Identities {
		b := export.NewBook(sample.Result(), export.Options{Identity: identity, Key: []byte("k")})
		none := identity == deid.None
		if charts := table(t, b.Tables, "charts"); (charts.Len == 0) != none {
			t.Errorf("identity %s: %d points", identity, charts.Len)
		}
		periods := strings.Join(column(t, table(t, b.Tables, "rates"), "period"), "")
		if (periods == "") != none {
			t.Errorf("identity %s: periods %q", identity, periods)
		}
		if (len(b.Meeting.Charts) == 0) != none {
			t.Errorf("identity %s: %d charts drawn", identity, len(b.Meeting.Charts))
		}
		if said := strings.Join(b.Meeting.Lines, " "); strings.Contains(said, "2026") == none {
			t.Errorf("identity %s: %s", identity, said)
		}
	}
}

// What is suppressed has no number in its row, and says that it is left out.
func TestSuppressedRow(t *testing.T) {
	rates := table(t, export.Tables(sample.Result(), export.Options{}), "rates")
	for _, name := range []string{"numerator", "denominator", "share", "low", "high", "not_assessable", "small"} {
		if got := column(t, rates, name); got[1] != "" || got[0] == "" {
			t.Errorf("%s: %v", name, got)
		}
	}
	if got := column(t, rates, "suppressed"); got[1] != "true" || got[0] != "false" {
		t.Errorf("%v", got)
	}
}
