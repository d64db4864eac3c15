package testobject

import (
	"fmt"
	"math"
	"strings"

	"leadline/analyse"
	"leadline/analyse/stats"
	"leadline/ingest"
	"leadline/ingest/protocol"
)

// mean is the mean of the values of a test.
func (t *test) mean() float64 {
	sum := 0.0
	for _, v := range t.measured {
		sum += v
	}
	return sum / float64(len(t.measured))
}

// usable are the tests that hold a value.
func (r *series) usable() []*test {
	var list []*test
	for _, t := range r.tests {
		if len(t.measured) > 0 {
			list = append(list, t)
		}
	}
	return list
}

// corrected is a length for the speed of sound of the test.
func (r *series) corrected(t *test, length, assumed float64) float64 {
	factor, _ := t.sound.factor(r.target.Direction, assumed)
	return length * factor
}

// errors are the mean errors of tests, in mm.
func (r *series) errors(tests []*test, assumed float64) []float64 {
	out := make([]float64, len(tests))
	for i, t := range tests {
		out[i] = r.corrected(t, t.mean(), assumed) - r.target.DistanceMM
	}
	return out
}

// repeats is what the values within each test say of the placing of calipers.
func (r *series) repeats(tests []*test, assumed float64) (stats.Repeatability, bool) {
	groups := make([][]float64, len(tests))
	for i, t := range tests {
		for _, v := range t.measured {
			groups[i] = append(groups[i], r.corrected(t, v, assumed))
		}
	}
	return stats.Repeats(groups)
}

// result judges the last so many tests of the usable ones; repeats is over all of them.
func (r *series) result(tests []*test, scope analyse.TestScope, repeats *stats.Repeatability, o *protocol.TestObject) analyse.TargetResult {
	assumed, last := o.Material.AssumedMS, tests[len(tests)-1]
	res := r.row(last.device)
	res.Scope, res.Tests = scope, len(tests)
	res.First, res.Last = tests[0].study.Start, last.study.Start
	res.SpeedMS = ingest.Some(last.sound.speed)
	var measured, corrected float64
	for _, t := range tests {
		res.Values += len(t.measured)
		measured += t.mean() / float64(len(tests))
		corrected += r.corrected(t, t.mean(), assumed) / float64(len(tests))
	}
	res.MeasuredMM, res.CorrectedMM = ingest.Some(measured), ingest.Some(corrected)
	bias := corrected - r.target.DistanceMM
	res.Error = ingest.Some(bias)
	if e, sd, ok := stats.Mean(r.errors(tests, assumed)); ok {
		res.Low, res.High, res.BetweenSD = ingest.Some(e.Low), ingest.Some(e.High), ingest.Some(sd)
	}
	if repeats != nil {
		res.WithinSD = ingest.Some(repeats.WithinSD.Value)
		res.WithinLow, res.WithinHigh = ingest.Some(repeats.WithinSD.Low), ingest.Some(repeats.WithinSD.High)
	}
	_, relativeU := last.sound.factor(r.target.Direction, assumed)
	_, _, u := stats.Expanded(
		spreadOf(tests, res.BetweenSD, repeats),
		stats.Component{U: r.target.U / 2, Degrees: math.Inf(1)},
		stats.Component{U: corrected * relativeU, Degrees: math.Inf(1)},
	)
	res.U = ingest.Some(u)
	res.Verdict = verdict(bias, u, res.ToleranceMM.Value)
	res.Note = r.notes(tests, repeats, o)
	return res
}

// row is what the target says of itself.
func (r *series) row(d *ingest.Device) analyse.TargetResult {
	t := r.target
	return analyse.TargetResult{
		Device: d, Target: t.ID, Title: t.Title, Direction: string(t.Direction),
		TrueMM: ingest.Some(t.DistanceMM), TrueU: ingest.Some(t.U),
		ToleranceMM: ingest.Some(t.Tolerance.OfMM(t.DistanceMM)), ToleranceSource: t.Tolerance.Source,
	}
}

// spreadOf is the standard uncertainty of a mean that the tests themselves tell: of
// several tests from their spread, of one from that of repeats in any test. It is
// never less than the step of one value, for repeats on the same pixels share it
// (JCGM 100:2008 F.2.2.1).
func spreadOf(tests []*test, between ingest.Optional[float64], repeats *stats.Repeatability) stats.Component {
	c := stats.Component{Degrees: math.Inf(1)}
	switch n := len(tests); {
	case n > 1:
		c = stats.Component{U: between.Value / math.Sqrt(float64(n)), Degrees: float64(n - 1)}
	case repeats != nil:
		c = stats.Component{U: repeats.WithinSD.Value / math.Sqrt(float64(len(tests[0].measured))), Degrees: float64(repeats.N - repeats.Groups)}
	}
	if step := tests[len(tests)-1].stepU; step >= c.U {
		return stats.Component{U: step, Degrees: math.Inf(1)}
	}
	return c
}

// verdict holds an error with its U against what it may be: inside with all of U, or
// outside with all of it; in between it cannot be told. Common practice, no source.
func verdict(bias, u, tolerance float64) analyse.TestVerdict {
	switch off := math.Abs(bias); {
	case off+u <= tolerance:
		return analyse.TestPass
	case off-u > tolerance:
		return analyse.TestFail
	}
	return analyse.TestUndecided
}

// linearType is what Transducer Type calls a flat array (PS3.3 C.8.5.6).
const linearType = "LINEAR"

// notes says what a reader must know of the row.
func (r *series) notes(tests []*test, repeats *stats.Repeatability, o *protocol.TestObject) string {
	var said []string
	values, reported, suspect := 0, 0, 0
	for _, t := range tests {
		values, reported, suspect = values+len(t.measured), reported+t.reported, suspect+t.suspect
	}
	if reported > 0 {
		said = append(said, fmt.Sprintf("%d of %s as reported, without a caliper to rebuild from", reported, analyse.Counted(values, "value", "values")))
	}
	if suspect > 0 {
		said = append(said, fmt.Sprintf("%d more of suspect calibration not used", suspect))
	}
	if repeats == nil && len(tests) == 1 {
		said = append(said, "never repeated within a test: U holds the step of a value alone, not how well calipers were set")
	}
	last := tests[len(tests)-1]
	if r.target.Direction == protocol.Axial && last.sound.note != "" {
		said = append(said, last.sound.note)
	}
	if off := last.sound.speed != o.Material.AssumedMS; off && r.target.Direction == protocol.Lateral && last.device.TransducerType != linearType {
		said = append(said, "not corrected for the speed of sound: of a sector or curved array, distances across the beam follow the depth shown")
	}
	if last.device.Serial == "" {
		said = append(said, "no serial number: several devices may hide behind this one")
	}
	return strings.Join(said, "; ")
}
