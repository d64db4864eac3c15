package demo

import (
	"fmt"
	"slices"
	"testing"

	"leadline/analyse"
	"leadline/analyse/month"
	"leadline/ingest"
)

// What a year plants is found on the chart of complete studies, for almost every seed:
// the bad week as a point beyond a limit, the improvement as a run or as too few
// crossings. The studies are those of the plan, judged as planned.
func TestYearIsFound(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and hardly anything in it at once")
	}
	const seeds, protocol = 40, "newborn-heart-function"
	week, better := 0, 0
	for seed := range int64(seeds) {
		var studies []*analyse.Study
		o := Options{Studies: 1040, Months: 12, Seed: seed}
		for _, p := range plans(o) {
			if p.kind != heart {
				continue
			}
			status := analyse.Met
			if len(p.defects) > 0 {
				status = analyse.Missing
			}
			studies = append(studies, &analyse.Study{
				UID: fmt.Sprint(p.ordinal), Header: &ingest.Study{}, Start: ingest.Stamp{T: p.day},
				Items: []*analyse.ItemResult{{Protocol: protocol, Item: "all", Required: true, Status: status}},
			})
			if age := p.day.Sub(p.patient.birth).Hours() / 24; age < 0 || age > 40 {
				t.Fatalf("a study %v days after birth", age)
			}
		}
		m := month.Of(studies, month.Options{Protocols: []string{protocol}})
		bad, later := false, false
		for _, p := range m.Charts[0].Points {
			bad = bad || p.Label == isoWeek(badWeek(o.Months)) && slices.Contains(p.Signals, "beyond-limits")
			later = later || slices.Contains(p.Signals, "long-run") || slices.Contains(p.Signals, "few-crossings")
		}
		if bad {
			week++
		}
		if later {
			better++
		}
	}
	t.Logf("of %d years: bad week found in %d, improvement in %d", seeds, week, better)
	if week != seeds || better < seeds*9/10 {
		t.Errorf("of %d years: bad week found in %d, improvement in %d", seeds, week, better)
	}
}
