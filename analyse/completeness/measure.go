package completeness

import (
	"fmt"
	"slices"

	"leadline/analyse"
	"leadline/ingest"
	"leadline/ingest/protocol"
)

// measured tells whether the study has a value of one of the measures.
func (v *view) measured(refs []protocol.Ref) bool {
	wanted := ids(refs)
	return slices.ContainsFunc(v.study.Measurements, func(m analyse.Measurement) bool {
		return slices.Contains(wanted, m.Measure) && hasValue(&m)
	})
}

// hasValue tells whether a measurement says anything: a reported value, or a
// rebuilt one that is not suspect.
func hasValue(m *analyse.Measurement) bool { return m.Reported != nil || trusted(m) }

// trusted tells whether a value was rebuilt with a calibration that does not
// contradict its image.
func trusted(m *analyse.Measurement) bool {
	return m.Rebuilt != nil && m.Verdict != analyse.VerdictSuspect
}

// measure asks for measurements. The same caliper met twice, in a report and in a
// presentation state, counts once. Measurements that are there but do not count
// (no value, or no trusted rebuilt one where that is asked for) make the item
// partial.
func (v *view) measure(r *protocol.MeasureRule) outcome {
	o := outcome{needed: r.Count}
	wanted := ids(r.Measures)
	seen := map[string]bool{}
	var near, otherSide []string
	sideless, unplaced, unmapped := 0, 0, 0
	for i := range v.study.Measurements {
		m := &v.study.Measurements[i]
		switch {
		case m.Measure == "":
			unmapped++
		case !slices.Contains(wanted, m.Measure):
		case r.Side != "" && m.Side != "" && m.Side != "bilateral" && m.Side != r.Side:
			otherSide = append(otherSide, fmt.Sprintf("measurement %d is of the %s, %s needed", m.Number, m.Side, r.Side))
		case seen[caliperKey(m)]:
		case v.shortcoming(m, r) != "":
			near = append(near, fmt.Sprintf("measurement %d %s", m.Number, v.shortcoming(m, r)))
		case r.Side != "" && m.Side == "":
			sideless++
		case v.unplaced(m, r):
			unplaced++
		default:
			seen[caliperKey(m)] = true
			o.found++
			o.evidence = append(o.evidence, fmt.Sprintf("measurement %d", m.Number))
		}
	}
	o.status = enough(o.found, r.Count)
	switch {
	case o.status == analyse.Met:
		return o
	case sideless+unplaced > 0 && (o.found == 0 || o.found+sideless+unplaced >= r.Count):
		o.status = analyse.NotAssessable
	case len(near) > 0:
		o.status = analyse.Partial
	}
	o.note = measureNote(r, o, append(near, otherSide...), sideless, unplaced, unmapped)
	if o.note == "" {
		o.note = fmt.Sprintf("no such measurement among those of the study (%d)", len(v.study.Measurements))
	}
	return o
}

func measureNote(r *protocol.MeasureRule, o outcome, near []string, sideless, unplaced, unmapped int) string {
	var parts []string
	if o.found > 0 || r.Count > 1 {
		parts = append(parts, fmt.Sprintf("%d of %s", o.found, analyse.Counted(r.Count, "measurement", "measurements")))
	}
	if sideless > 0 {
		parts = append(parts, fmt.Sprintf("%d without a side, %s needed", sideless, r.Side))
	}
	if unplaced > 0 {
		parts = append(parts, analyse.Counted(unplaced, "measurement does not tell", "measurements do not tell")+" whether it was taken in "+planeWords[r.Plane])
	}
	parts = append(parts, near[:min(len(near), 2)]...)
	if unmapped > 0 {
		parts = append(parts, analyse.Counted(unmapped, "measurement of the study has a label that is not known and may be it",
			"measurements of the study have labels that are not known and may be it"))
	}
	return join(parts, "; ")
}

// shortcoming says why a measurement does not count, empty where it does.
func (v *view) shortcoming(m *analyse.Measurement, r *protocol.MeasureRule) string {
	if fits, other := v.inPlane(m, r.Plane); fits == no {
		return fmt.Sprintf("was taken in %s, %s needed", other, planeWords[r.Plane])
	}
	switch {
	case r.InReport && (m.Source != analyse.SourceReport || m.Reported == nil):
		return "stands in no report"
	case r.WithCaliper && len(m.Points) == 0 && m.Geometry != ingest.GeometryFrames:
		return "has no caliper"
	case r.Calibrated && m.Verdict == analyse.VerdictSuspect:
		return "is suspect: its calibration contradicts its image"
	case r.Calibrated && m.Rebuilt == nil && len(m.Points) == 0:
		return "is reported only: there is no caliper to rebuild it from"
	case r.Calibrated && m.Rebuilt == nil:
		return "could not be rebuilt from its caliper"
	case !hasValue(m) && m.Verdict == analyse.VerdictSuspect:
		return "is suspect, and no value is reported"
	case !hasValue(m):
		return "has no value"
	}
	return ""
}

// unplaced tells that it cannot be said whether a measurement was taken in the plane.
func (v *view) unplaced(m *analyse.Measurement, r *protocol.MeasureRule) bool {
	fits, _ := v.inPlane(m, r.Plane)
	return fits == unknown
}

// caliperKey is the same for the same caliper; a measurement without a caliper is
// like no other.
func caliperKey(m *analyse.Measurement) string {
	if len(m.Points) == 0 {
		return fmt.Sprint("number ", m.Number)
	}
	return fmt.Sprint(m.Measure, m.Side, m.SOPUID, m.Frames, m.Geometry, m.Points)
}
