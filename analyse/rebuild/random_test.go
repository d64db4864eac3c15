package rebuild

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"leadline/analyse"
	"leadline/ingest"
)

// Whatever a caliper holds, the row is whole: a verdict, a reason or a value, and
// no value that is not a number.
func TestAnyCaliper(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	study := sample()
	geometries := []ingest.Geometry{"point", "line", "polyline", "polygon", "ellipse", "circle", "discs", "frames", "spiral", ""}
	units := []string{"", "mm", "cm", "mm2", "mL", "s", "cm/s", "cm/s2", "deg", "%", "1", "ell", "mm[Hg]"}
	odd := []float64{math.NaN(), math.Inf(1), math.Inf(-1), math.MaxFloat64, -5, 0, 800}
	rebuilt := 0
	for range 40_000 {
		r := ingest.CaliperRow{
			SOPUID: study.Images[rng.IntN(len(study.Images))].SOPInstanceUID, Geometry: geometries[rng.IntN(len(geometries))],
			Unit: units[rng.IntN(len(units))*rng.IntN(2)], ValueText: "5.0", Value: ingest.Some(5.0), Frames: []int{rng.IntN(60) - 5, rng.IntN(60) - 5}[:rng.IntN(3)],
		}
		count := rng.IntN(6)
		if fitting := map[ingest.Geometry]int{"point": 1, "line": 2, "circle": 2, "ellipse": 4}[r.Geometry]; fitting > 0 && rng.IntN(4) > 0 {
			count = fitting
		}
		for range count {
			p := ingest.Point{X: rng.Float64() * 800, Y: rng.Float64() * 600}
			if rng.IntN(50) == 0 {
				p.X = odd[rng.IntN(len(odd))]
			}
			r.Points = append(r.Points, p)
		}
		if rng.IntN(10) == 0 {
			r.Value.Value = odd[rng.IntN(len(odd))]
		}
		for _, m := range Measurements(study, []ingest.CaliperRow{r}, nil) {
			if !slices.Contains(analyse.Verdicts, m.Verdict) {
				t.Fatalf("%+v: verdict %q", r, m.Verdict)
			}
			if m.Reported != nil && (math.IsNaN(m.Reported.Value) || math.IsInf(m.Reported.Value, 0)) {
				t.Fatalf("%+v: reported %v", r, m.Reported.Value)
			}
			if m.Rebuilt == nil {
				if m.Reason == "" || m.Note == "" {
					t.Fatalf("%+v: nothing rebuilt and no reason", r)
				}
				continue
			}
			rebuilt++
			for _, v := range []float64{m.Rebuilt.Value, m.Rebuilt.StdU, m.Difference.Value, m.Tolerance.Value} {
				if math.IsNaN(v) || math.IsInf(v, 0) {
					t.Fatalf("%+v: %+v", r, m)
				}
			}
		}
	}
	if rebuilt < 1000 {
		t.Errorf("only %d rows were rebuilt: the draws test too little", rebuilt)
	}
}
