package report

import (
	"slices"
	"strings"
	"testing"
)

// TestTiedPoints: numbers that share a large graphic have it as long as the points
// of all their graphics stay within the limit; the number beyond has none, and a
// problem says so.
func TestTiedPoints(t *testing.T) {
	path := slices.Repeat([]float64{1, 2, 3, 4}, maxPoints/4+1)
	shared := reference("INFERRED FROM", 1, 1, 1)
	d := root(group("", line("CONTAINS", path...), number(lengthConcept, "2.0", shared), number(lengthConcept, "3.0", shared)))
	doc := Read(&d)
	if len(doc.Numerics) != 2 || len(doc.Numerics[0].Graphics) != 1 || len(doc.Numerics[1].Graphics) != 0 {
		t.Fatalf("numbers with graphics %v", doc.Numerics)
	}
	if len(doc.Problems) != 1 || !strings.Contains(doc.Problems[0], "at most 1000000 points in the graphics of all numbers") {
		t.Errorf("problems %q", doc.Problems)
	}
}
