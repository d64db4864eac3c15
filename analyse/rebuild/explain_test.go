package rebuild

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"leadline/analyse"
	"leadline/analyse/physical"
	"leadline/analyse/physical/calculator"
	"leadline/ingest"
)

// explainedRows are calipers of every geometry and calibration, with numbers that
// agree, differ, and are written in other units.
var explainedRows = []ingest.CaliperRow{
	row("mmode", "line|100,50 300,200|25.1|mm|"),
	row("mmode", "line|100,350 300,450|20|mm|LVIDd"),
	row("mmode", "line|100,350 300,450|1|s|"),
	row("mmode", "line|100,350 300,450|2.0|cm/s|"),
	row("mmode", "line|100,350 300,450|60|/min|HR"),
	row("mmode", "line|100,350 300,450|180|/min|HR"),
	row("mmode", "line|100,350 300,450|||"),
	row("mmode", "point|100,350|10.0|mm|"),
	row("pw", "point|100,350|0.502|m/s|"),
	row("pw", "point|100,520|-34.8|cm/s|"),
	row("pw", "line|100,450 140,350|250|cm/s2|"),
	row("pw", "polyline|100,450.5 140,350 200,450.5|12.6|cm|VTI"),
	row("pw", "polyline|200,450.5 140,350 100,450.5|12.6|cm|VTI"),
	row("pw", "polygon|140,350 200,450.5 150,450.5 100,450.5 140,350|126|mm|"),
	row("turned", "point|100,350|-50|cm/s|"),
	row("dual", "polyline|10,10 40,10 40,10 40,50|7.0|mm|"),
	row("dual", "polyline|10,10 40,10 40,50|90|deg|"),
	row("dual", "polygon|10,10 40,10 40,50 10,50 10,10|12.0|mm2|"),
	row("dual", "polygon|10,10 40,10 40,50 10,50 10,10|14.0|mm|"),
	row("oblong", "ellipse|100,150 300,150 200,100 200,200|15.7|cm2|"),
	row("oblong", "ellipse|100,150 300,150 200,100 200,200|60|mm|"),
	row("oblong", "circle|100,150 130,190|9|mm2|"),
	row("oblong", "circle|100,150 130,190|30|mm|"),
	row("dual", "circle|100,150 130,190|10|mm|"),
	row("dual", "discs|100,160 200,160 100,120 200,130 200,190 100,200|0.4|mL|"),
	row("mirrored", "line|100,50 300,200|25.1|mm|"),
	row("ct", "line|100,50 300,200|67.3|mm|"),
	row("suspect", "line|100,50 300,200|25|mm|"),
	frames("clip", "0.2|s|", 3, 13),
}

func frames(image, text string, first, last int) ingest.CaliperRow {
	r := row(image, "frames||"+text+"|")
	r.Frames = []int{first, last}
	return r
}

// Each number that is shown follows from numbers shown above it, by the formula
// shown, to the value, U and tolerance of the measurement itself.
func TestExplain(t *testing.T) {
	cine := func(study *analyse.Study) {
		timing := &imagesOf(study)["clip"].Image.Timing
		timing.FrameTimeMS, timing.CineRateHz = ingest.Optional[float64]{}, ingest.Some(50.0)
	}
	vector := func(study *analyse.Study) {
		timing := &imagesOf(study)["clip"].Image.Timing
		timing.FrameTimeMS = ingest.Optional[float64]{}
		for i := range 40 {
			timing.FrameTimeVectorMS = append(timing.FrameTimeVectorMS, float64(min(i, 1)*(19+i%3)))
		}
	}
	protocol := func(study *analyse.Study) {
		study.Uncertainty = analyse.UncertaintyRule{Protocol: "p", PlacementPX: map[string]float64{"lv-internal-diameter-diastole": 1.5}, ScaleTolerance: 0.02}
	}
	for name, change := range map[string]func(*analyse.Study){"plain": func(*analyse.Study) {}, "cine rate": cine, "vector": vector, "protocol": protocol} {
		study := sample()
		change(study)
		want := Measurements(study, explainedRows, nil)
		quantities := map[analyse.QuantityKind]bool{}
		n := 0
		Explain(study, explainedRows, nil, func(m *analyse.Measurement, work *physical.Work) {
			n++
			if w := want[n-1]; m.Number != n || m.Note != w.Note || (w.Rebuilt == nil) != (m.Rebuilt == nil) || w.Rebuilt != nil && *w.Rebuilt != *m.Rebuilt || m.Tolerance != w.Tolerance {
				t.Errorf("%s, row %d: %+v explained, %+v without", name, n, m, w)
			}
			if m.Rebuilt == nil {
				t.Errorf("%s, row %d: %s: %s", name, n, m.Reason, m.Note)
				return
			}
			quantities[m.Quantity] = true
			for _, problem := range checkSteps(m, work) {
				t.Errorf("%s, row %d (%s): %s", name, n, m.Quantity, problem)
			}
		})
		if n != len(want) || len(quantities) < 13 {
			t.Errorf("%s: %d rows of %d, quantities %v", name, n, len(want), quantities)
		}
	}
}

// checkSteps says what a reader with a calculator would object to.
func checkSteps(m *analyse.Measurement, work *physical.Work) (problems []string) {
	values := map[string]float64{}
	var known []float64
	for _, p := range work.Points {
		known = append(known, p.X, p.Y)
	}
	for _, term := range work.Terms {
		known = append(known, term.PerPixel)
	}
	for _, s := range work.Steps {
		args, largest := make([]any, len(s.Args)), math.Abs(s.Value)
		for i, a := range s.Args {
			if s.Part == physical.PartValue && s.Unit != physical.S && !slices.Contains(known, a) {
				problems = append(problems, fmt.Sprintf("%s: %v comes from nowhere", s.Name, a))
			}
			args[i], largest = fmt.Sprintf("(%.17g)", a), max(largest, math.Abs(a))
		}
		result, err := calculator.Evaluate(fmt.Sprintf(s.Formula, args...))
		if err != nil || !(math.Abs(result-s.Value) <= 1e-9*largest) {
			problems = append(problems, fmt.Sprintf("%s: %s of %v is %v %v, not %v", s.Name, s.Formula, s.Args, result, err, s.Value))
		}
		known = append(known, s.Value)
		values[s.Name] = s.Value
		if s.Part == physical.PartValue {
			values["value"] = s.Value
		}
	}
	compare := map[string]float64{"value": m.Rebuilt.Value, "U (k=2)": m.Rebuilt.ExpandedU()}
	if m.Difference.Set {
		compare["difference"], compare["tolerance"] = m.Difference.Value, m.Tolerance.Value
	}
	for name, want := range compare {
		if got, ok := values[name]; !ok || got != want {
			problems = append(problems, fmt.Sprintf("%s: steps end in %v, the measurement has %v", name, got, want))
		}
	}
	return problems
}
