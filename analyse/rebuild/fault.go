package rebuild

import (
	"math"

	"leadline/analyse"
	"leadline/analyse/physical"
)

// hypothesis is one typical fault: what the value would be if it had happened. A
// hypothesis that does not apply to a measurement gives nothing.
type hypothesis struct {
	kind   analyse.FaultKind
	expect func(*differing) []expected
	// suspect tells that it is also asked where the calibration contradicts its image.
	suspect bool
}

// hypotheses are all of them, in the order they are named.
var hypotheses = []hypothesis{
	{kind: analyse.FaultPowerOfTen, expect: byPowerOfTen},
	{kind: analyse.FaultResampled, expect: byImageScale, suspect: true},
	{kind: analyse.FaultOtherSpacing, expect: bySpacingInstead},
	{kind: analyse.FaultSwapped, expect: bySwappedAxes},
	{kind: analyse.FaultOtherRegion, expect: byOtherRegion},
	{kind: analyse.FaultOtherTiming, expect: byOtherClock},
}

// differing is a measurement whose reported value its caliper does not explain.
type differing struct {
	caliper *caliper
	outcome
}

// expected is a value under a hypothesis, and the hypothesis in words.
type expected struct {
	value physical.Quantity
	words string
}

// faults names every hypothesis under which reported and rebuilt value agree by
// the measurement's own rule: half a unit of the reported number's last place + U,
// where U is that of the value under the hypothesis.
func (c *caliper) faults(m *analyse.Measurement, o outcome) []analyse.Fault {
	suspect := m.Verdict == analyse.VerdictSuspect
	if m.Reported == nil || c.want.unit != o.value.Unit || !suspect && m.Verdict != analyse.VerdictDiffers {
		return nil
	}
	reported, half := m.Reported.Value*c.want.factor, halfPlace(m.Reported, c.want, new(notes))
	if o.explains(reported, half, o.value) {
		return nil
	}
	var found []analyse.Fault
	for _, h := range hypotheses {
		if suspect && !h.suspect {
			continue
		}
		for _, e := range h.expect(&differing{c, o}) {
			if o.explains(reported, half, e.value) {
				found = append(found, analyse.Fault{Kind: h.kind, Evidence: e.words})
				break
			}
		}
	}
	return found
}

// explains tells that a value agrees with the reported one.
func (o *outcome) explains(reported, half float64, q physical.Quantity) bool {
	rebuilt := q.Value
	if !o.signs {
		reported, rebuilt = math.Abs(reported), math.Abs(rebuilt)
	}
	return math.Abs(reported-rebuilt) <= half+q.ExpandedU()
}

// on rebuilds the caliper by a formula on another plane. It is false where that
// gives no value.
func (d *differing) on(plane physical.Plane, f *formula) (physical.Quantity, bool) {
	if f == nil || f.compute == nil || !f.fits(plane) || f.same(d.plane, plane) {
		return physical.Quantity{}, false
	}
	plane.Work, plane.PointStdU = nil, d.plane.PointStdU
	q, err := f.compute(plane, d.caliper.m.Points)
	if err != nil {
		return q, false
	}
	q, _ = withScale(q, f.quantity, d.caliper.rule, nil)
	return q, true
}
