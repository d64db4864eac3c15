package indices

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"leadline/analyse"
	"leadline/analyse/checks"
	"leadline/analyse/measures"
	"leadline/analyse/physical"
)

// values are the measurements of a study by measure.
type values struct {
	byMeasure map[string][]*analyse.Measurement
	// devices names the device that made each image, by SOP Instance UID. It is
	// only filled where a tolerance of the calibration is given.
	devices map[string]string
}

func gather(study *analyse.Study) values {
	have := values{byMeasure: map[string][]*analyse.Measurement{}}
	for i := range study.Measurements {
		if m := &study.Measurements[i]; m.Measure != "" {
			have.byMeasure[m.Measure] = append(have.byMeasure[m.Measure], m)
		}
	}
	if study.Uncertainty.ScaleTolerance > 0 {
		have.devices = map[string]string{}
		for _, img := range study.Images {
			if img.Device != nil {
				have.devices[img.SOPInstanceUID] = analyse.DeviceName(img.Device)
			}
		}
	}
	return have
}

// sideOf is the side that an input must be of, empty where it may be of any.
func sideOf(in *Input, d *Definition) string {
	if in.Side != "" {
		return in.Side
	}
	return d.Side
}

// of are the measurements of a measure on the side that the input is for.
func (v values) of(measure string, in *Input, d *Definition) []*analyse.Measurement {
	all, side := v.byMeasure[measure], sideOf(in, d)
	if measure == "" || side == "" && !d.Unsided {
		return all
	}
	return only(all, func(m *analyse.Measurement) bool { return m.Side == side })
}

// mean is the value of an input: the mean of the measurements marked as selected,
// else of all. Rebuilt values that are not suspect come first; only where there is
// none, reported ones are taken, whose uncertainty is that of their rounding alone.
// Takes are independent but for the points that they share and for the scale; one
// caliper that was stored twice counts once. The spread of the takes is told, and not
// part of the uncertainty.
func (v values) mean(list []*analyse.Measurement, in *Input, r *resolved) (term, string) {
	used, rebuilt := candidates(list, in)
	value := v.rebuilt
	if !rebuilt {
		value = func(m *analyse.Measurement) term { t, _ := reportedIn(m, in); return t }
		if len(used) == 0 {
			first := marked(list)[0]
			return term{}, fmt.Sprintf("%s has no usable value (measurement %d: %s)", measures.TitleOf(first.Measure), first.Number, first.Verdict)
		}
		if !in.Count {
			r.notes = append(r.notes, measures.TitleOf(used[0].Measure)+" is the reported value; only its rounding is in the uncertainty")
		}
	}
	takes, weights := make([]term, len(used)), make([]float64, len(used))
	sum := 0.0
	for i, m := range used {
		takes[i], weights[i] = value(m), 1/float64(len(used))
		sum += takes[i].value
		r.used = append(r.used, fmt.Sprintf("measurement %d (%s)", m.Number, m.Measure))
		r.met(m)
	}
	t := combined(takes, weights)
	t.value = sum / float64(len(used))
	if len(used) > 1 {
		r.notes = append(r.notes, fmt.Sprintf("%s is the mean of %d, standard deviation %.3g %s", measures.TitleOf(used[0].Measure), len(used), spread(takes, t.value), physical.Printed(in.Unit)))
	}
	if slices.ContainsFunc(used, func(m *analyse.Measurement) bool { return m.Quantity == analyse.VelocityDifference }) {
		r.notes = append(r.notes, measures.TitleOf(used[0].Measure)+" was read from a line, which tells no direction")
	}
	return t, ""
}

// marked are the measurements marked as selected, else all.
func marked(list []*analyse.Measurement) []*analyse.Measurement {
	if selected := only(list, func(m *analyse.Measurement) bool { return m.Selected }); len(selected) > 0 {
		return selected
	}
	return list
}

// candidates are the measurements whose values may stand for an input, and whether
// these are rebuilt ones: see mean.
func candidates(list []*analyse.Measurement, in *Input) (used []*analyse.Measurement, rebuilt bool) {
	list = marked(list)
	if used = once(only(list, rebuiltIn(in.Unit))); len(used) > 0 {
		return used, true
	}
	return only(list, func(m *analyse.Measurement) bool { _, ok := reportedIn(m, in); return ok }), false
}

// spread is the standard deviation of the takes, by n − 1.
func spread(takes []term, mean float64) float64 {
	squares := 0.0
	for _, t := range takes {
		squares += (t.value - mean) * (t.value - mean)
	}
	return math.Sqrt(squares / float64(len(takes)-1))
}

// rebuilt is a rebuilt value with its parts.
func (v values) rebuilt(m *analyse.Measurement) term {
	return term{m.Rebuilt.Value, partsOf(m, v.devices[m.SOPUID])}
}

func only(list []*analyse.Measurement, keep func(*analyse.Measurement) bool) []*analyse.Measurement {
	var kept []*analyse.Measurement
	for _, m := range list {
		if keep(m) {
			kept = append(kept, m)
		}
	}
	return kept
}

func rebuiltIn(unit physical.Unit) func(*analyse.Measurement) bool {
	return func(m *analyse.Measurement) bool {
		return m.Rebuilt != nil && m.Rebuilt.Unit == unit && m.Verdict != analyse.VerdictSuspect
	}
}

// once leaves out calipers that repeat an earlier one point by point: two reports,
// or a report and a table, may hold the same.
func once(list []*analyse.Measurement) []*analyse.Measurement {
	if len(list) < 2 {
		return list
	}
	met := make(map[string]bool, len(list))
	return only(list, func(m *analyse.Measurement) bool {
		caliper := m.CaliperKey()
		again := met[caliper]
		met[caliper] = true
		return !again
	})
}

// reportedIn is the reported value in the unit of the input, its rounding as a
// rectangular distribution of half the last place (JCGM 100:2008 F.2.2.1). A count
// may be reported without a unit, and is not rounded.
func reportedIn(m *analyse.Measurement, in *Input) (term, bool) {
	if m.Reported == nil {
		return term{}, false
	}
	if in.Count && m.Reported.Unit == "" {
		return term{value: m.Reported.Value}, true
	}
	q, ok := m.Reported.In(in.Unit)
	if !ok {
		return term{}, false
	}
	if in.Count {
		return term{value: q.Value}, true
	}
	return alone(q.Value, cause{kind: ofMeasurement, number: m.Number}, q.StdU), true
}

// kilogram is only used here: no measurement is made in it.
const kilogram physical.Unit = "kg"

// weight is Patient's Weight, refused where it cannot be a newborn's in kilograms.
// Its uncertainty is that of its rounding; how old the weight is, nobody knows.
func weight(study *analyse.Study) (physical.Quantity, string) {
	if study.Patient == nil || !study.Patient.WeightKg.Set {
		return physical.Quantity{}, "the header holds no weight"
	}
	kg := study.Patient.WeightKg.Value
	if !checks.PlausibleWeight(kg) {
		return physical.Quantity{}, "the weight in the header cannot be a newborn's in kilograms"
	}
	place, _ := physical.LastPlace(strconv.FormatFloat(kg, 'f', -1, 64))
	return physical.Quantity{Value: kg, StdU: place / 2 / math.Sqrt(3), Unit: kilogram}, ""
}
