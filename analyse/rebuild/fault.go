package rebuild

import (
	"math"

	"leadline/analyse"
	"leadline/analyse/physical"
)

// hypothesis is one typical fault. explain works out what the value would be if it
// had happened, and says in words what the reported value agrees with then; empty
// where it agrees with nothing, or where the fault cannot have happened.
type hypothesis struct {
	kind    analyse.FaultKind
	explain func(*differing) string
	// suspect tells that it is also asked where the calibration contradicts its image.
	suspect bool
}

// hypotheses are all of them, in the order they are named.
var hypotheses = []hypothesis{
	{kind: analyse.FaultPowerOfTen, explain: byPowerOfTen},
	{kind: analyse.FaultResampled, explain: byImageScale, suspect: true},
	{kind: analyse.FaultOtherSpacing, explain: bySpacingInstead},
	{kind: analyse.FaultSwapped, explain: bySwappedAxes},
	{kind: analyse.FaultOtherRegion, explain: byOtherRegion},
	{kind: analyse.FaultOtherTiming, explain: byOtherClock},
}

// differing is a measurement whose reported value its caliper does not explain.
type differing struct {
	caliper *caliper
	*outcome
	// plane is that of the value; it has no units for an interval between frames.
	plane physical.Plane
	// reported is in the unit of the rebuilt value, as is half a unit of its last
	// place.
	reported, half float64
}

// faults names every hypothesis under which reported and rebuilt value agree by
// the measurement's own rule: half a unit of the reported number's last place + U,
// where U is that of the value under the hypothesis.
func (c *caliper) faults(m *analyse.Measurement, o *outcome) []analyse.Fault {
	suspect := m.Verdict == analyse.VerdictSuspect
	if m.Reported == nil || c.want.unit != o.value.Unit || !suspect && m.Verdict != analyse.VerdictDiffers {
		return nil
	}
	d := differing{c, o, o.plane(), m.Reported.Value * c.want.factor, halfPlace(m.Reported, c.want, new(notes))}
	if d.agrees(o.value) {
		return nil
	}
	var found []analyse.Fault
	for _, h := range hypotheses {
		if suspect && !h.suspect {
			continue
		}
		if words := h.explain(&d); words != "" {
			found = append(found, analyse.Fault{Kind: h.kind, Evidence: words})
		}
	}
	return found
}

// plane is the scale that the value was computed by.
func (o *outcome) plane() physical.Plane {
	if o.scaledBy != nil {
		return physical.RegionPlane(o.scaledBy.Raw)
	}
	plane, _ := physical.SpacingPlane(o.img.Image.Spacing.Pixel.Value)
	return plane
}

// agrees tells that a value agrees with the reported one.
func (d *differing) agrees(q physical.Quantity) bool {
	reported, rebuilt := d.reported, q.Value
	if !d.signs {
		reported, rebuilt = math.Abs(reported), math.Abs(rebuilt)
	}
	return math.Abs(reported-rebuilt) <= d.half+q.ExpandedU()
}

// on rebuilds the caliper by a formula on another plane. It is false where that
// gives no value, or none that agrees.
func (d *differing) on(plane physical.Plane, f *formula) (physical.Quantity, bool) {
	if f == nil || f.compute == nil || !f.fits(plane) || f.same(d.plane, plane) {
		return physical.Quantity{}, false
	}
	plane.PointStdU = d.caliper.rule.PlacementPX[d.caliper.m.Measure]
	q, err := f.compute(plane, d.caliper.m.Points)
	if err != nil {
		return q, false
	}
	q, _ = withScale(q, f.quantity, d.caliper.rule, nil)
	return q, d.agrees(q)
}
