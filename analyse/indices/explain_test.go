package indices

import (
	"math"
	"strings"
	"testing"

	"leadline/analyse"
	"leadline/analyse/physical"
	"leadline/ingest"
)

// Explain hands over every index with a value, with the numbers of Derive, and its
// steps lead to its U. A coordinate that septum and cavity share stands once.
func TestExplain(t *testing.T) {
	of := &analyse.Coordinate{Number: 1, Spot: 1, Axis: analyse.AxisY, Point: ingest.Point{X: 40, Y: 55.5}}
	wall := func(measure string, v, shared float64) analyse.Measurement {
		return with(rebuilt(measure, v, 0.1*math.Sqrt2, physical.MM), func(m *analyse.Measurement) {
			m.OwnU, m.Shared = 0.1, []analyse.Contribution{{Of: of, StdU: shared}}
		})
	}
	s := study(wall("interventricular-septum-diastole", 3.5, -0.1), wall(dd, 18, 0.1), rebuilt("lv-posterior-wall-diastole", 3, 0.1, physical.MM), rebuilt(ds, 12, 0.1, physical.MM))
	want := map[string]physical.Quantity{}
	for _, x := range Derive(s) {
		if x.Value != nil {
			want[x.ID] = *x.Value
		}
	}
	found := 0
	Explain(s, func(x *analyse.Index, w *physical.Work) {
		if found++; *x.Value != want[x.ID] {
			t.Errorf("%s: %v, derived %v", x.ID, *x.Value, want[x.ID])
		}
		last := w.Steps[len(w.Steps)-1]
		if last.Name != "U (k=2)" || last.Value != x.Value.ExpandedU() {
			t.Errorf("%s ends in %+v", x.ID, last)
		}
		if x.ID != "lv-mass" {
			return
		}
		// By hand: outer 24.5 mm cancels, −3·0.832·1.8²·0.1 of 0.01 cm remains: −0.0809 g.
		at := 0
		for _, step := range w.Steps {
			if strings.HasPrefix(step.Name, "y of point (40, 55.5) in measurements 1, 2") {
				if at++; len(step.Args) != 4 || math.Abs(step.Value+3*0.832*1.8*1.8*0.01) > 1e-12 {
					t.Errorf("%+v", step)
				}
			}
		}
		if at != 1 {
			t.Errorf("the shared coordinate stands %d times: %+v", at, w.Steps)
		}
	})
	if found != len(want) || found < 8 {
		t.Errorf("%d of %d indices explained", found, len(want))
	}
}
