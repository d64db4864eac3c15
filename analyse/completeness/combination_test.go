package completeness

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"leadline/analyse"
)

// Parts of a condition: the study has it, may have it, lacks it, or it is not asked.
const (
	unasked = ""
	has     = "has"
	may     = "may"
	lacks   = "lacks"
)

// combination is one condition with one either/or; the ranks are places in best.
type combination struct {
	measure, view, fact string
	first, second       int
	severity, need      string
}

// best are the outcomes of a rule, the better first; outcomes are rules that have them.
var (
	best     = []analyse.ItemStatus{analyse.Met, analyse.NotAssessable, analyse.Partial, analyse.Missing}
	outcomes = []string{"measure: tapse", "measure: tapse, side: left", "measure: tapse, count: 2", "measure: mapse"}
)

func combinations() []combination {
	var all []combination
	severities, needs := []string{"", "error", "warning", "note"}, []string{"", "required", "preferred"}
	for n := range 3 * 4 * 3 * len(best) * len(best) {
		i := n
		next := func(of int) int { k := i % of; i /= of; return k }
		c := combination{first: next(len(best)), second: next(len(best))}
		c.measure, c.fact = []string{unasked, has, lacks}[next(3)], []string{unasked, has, lacks}[next(3)]
		c.view = []string{unasked, has, may, lacks}[next(4)]
		c.severity, c.need = severities[n%len(severities)], needs[n%len(needs)]
		all = append(all, c)
	}
	return all
}

func (c *combination) item() string {
	var parts []string
	for _, part := range [][2]string{{c.measure, "measure: duct-diameter"}, {c.view, "view: suprasternal"}, {c.fact, "fact: operator"}} {
		if part[0] != unasked {
			parts = append(parts, part[1])
		}
	}
	item := fmt.Sprintf("any-of: [{kind: measure, %s}, {kind: measure, %s}]", outcomes[c.first], outcomes[c.second])
	if len(parts) > 0 {
		item += ", if: {" + strings.Join(parts, ", ") + "}"
	}
	for _, key := range [][2]string{{"severity", c.severity}, {"need", c.need}} {
		if key[1] != "" {
			item += ", " + key[0] + ": " + key[1]
		}
	}
	return item
}

func (c *combination) study() *analyse.Study {
	s := study(still(1, map[string]string{has: "suprasternal", lacks: "PLAX", unasked: "PLAX"}[c.view]))
	s.Measurements = []analyse.Measurement{{Number: 1, Measure: "tapse", Reported: &analyse.Reported{Value: 9}}}
	if c.measure == has {
		s.Measurements = append(s.Measurements, analyse.Measurement{Number: 2, Measure: "duct-diameter", Reported: &analyse.Reported{Value: 2}})
	}
	if c.fact == has {
		s.Operators = []string{"Quill^Ann"}
	}
	return s
}

// want is the status by the rules of the README: all parts of the condition must hold,
// what may hold is open, and the best of the either/or counts.
func (c *combination) want() analyse.ItemStatus {
	parts := []string{c.measure, c.view, c.fact}
	switch {
	case slices.Contains(parts, lacks):
		return analyse.NotApplicable
	case slices.Contains(parts, may):
		return analyse.NotAssessable
	}
	return best[min(c.first, c.second)]
}

// TestCombinations holds every condition of measure, view and fact with every pair of
// outcomes of an either/or, and with severities and needs in turn.
func TestCombinations(t *testing.T) {
	for _, c := range combinations() {
		results, _ := Apply(c.study(), mustItem(t, c.item()))
		got, severity := results[0], analyse.Severity(c.severity)
		if severity == "" {
			severity = analyse.Warning
		}
		if got.Status != c.want() || got.Severity != severity || got.Required != (c.need != "preferred") {
			t.Errorf("%s: %s, %s, required %v; want %s", c.item(), got.Status, got.Severity, got.Required, c.want())
		}
		if (got.Status == analyse.Met) != (got.Note == "") {
			t.Errorf("%s: %s with the note %q", c.item(), got.Status, got.Note)
		}
	}
}
