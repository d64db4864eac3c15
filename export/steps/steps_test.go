package steps

import (
	"math"
	"strings"
	"testing"

	"leadline/analyse/physical"
	"leadline/ingest"
)

func TestText(t *testing.T) {
	w := &physical.Work{}
	plane := physical.Plane{X: physical.Axis{Unit: physical.MM, Delta: -0.1}, Y: physical.Axis{Unit: physical.MM, Delta: 0.1}, Work: w}
	if _, err := plane.Distance(ingest.Point{X: 10.5, Y: 20}, ingest.Point{X: 40.5, Y: 60}); err != nil {
		t.Fatal(err)
	}
	w.Add(physical.PartComparison, "difference", physical.MM, 0, "%v - %v", 5, 5)
	w.Add(physical.PartScale, "a ratio", physical.One, -2, "abs(%v) * (%v)", -2, -1)
	want := `  Points, in pixels right of and below the top left corner
    P1   x 10.5       y 20
    P2   x 40.5       y 60
  Scale
    a ratio = abs(-2) * (-1) = -2
  Value
    dx = (40.5 - 10.5) * (-0.1) = -3 mm
    dy = (60 - 20) * 0.1 = 4 mm
    distance = sqrt((-3)^2 + 4^2) = 5 mm
  Uncertainty
    u of one coordinate, half a pixel either way = 0.5 / sqrt(3) =
        0.2886751 px
      coordinate  moves the value by mm/px  adds to u, mm
              x1                     -0.06     0.01732051
              y1                     -0.08     0.02309401
              x2                      0.06     0.01732051
              y2                      0.08     0.02309401
    u of the points = 0.2886751 * sqrt((-0.06)^2 + (-0.08)^2 + 0.06^2 +
        0.08^2) = 0.04082483 mm
  Comparison with the reported value
    difference = 5 - 5 = 0 mm
`
	if got := Text(w); got != want {
		t.Errorf("got\n%s", got)
	}
	if lines := Lines(w); len(lines) != len(w.Steps) || lines[0].Expression != "(40.5 - 10.5) * (-0.1)" || lines[0].Unit != "mm" {
		t.Errorf("%+v", lines)
	}
	if terms := Terms(w); len(terms) != 4 || terms[3].Coordinate != "y2" || math.Abs(terms[3].PerPixel-0.08) > 1e-12 {
		t.Errorf("%+v", terms)
	}
}

// A traced outline of thousands of points stays readable; its end is shown, and
// how much is left out.
func TestTextIsBounded(t *testing.T) {
	w := &physical.Work{Points: make([]ingest.Point, 5000)}
	for range 5000 {
		w.Add(physical.PartValue, "piece", physical.MM, 1, "%v + %v", 0, 1)
	}
	w.Add(physical.PartValue, "the end", physical.MM, 1, "%v", 1)
	got := Text(w)
	if n := strings.Count(got, "\n"); n > 2*mostSteps+10 {
		t.Errorf("%d lines", n)
	}
	for _, want := range []string{"(4400 more points left out", "(4400 more lines left out", "the end = 1 mm"} {
		if !strings.Contains(got, want) {
			t.Errorf("lacks %q", want)
		}
	}
}
