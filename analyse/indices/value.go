package indices

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"leadline/analyse"
	"leadline/analyse/checks"
	"leadline/analyse/physical"
)

// values are the measurements of a study by measure.
type values map[string][]*analyse.Measurement

func gather(study *analyse.Study) values {
	have := values{}
	for i := range study.Measurements {
		if m := &study.Measurements[i]; m.Measure != "" {
			have[m.Measure] = append(have[m.Measure], m)
		}
	}
	return have
}

// of are the measurements of a measure on the side that the index is for.
func (v values) of(measure string, d *Definition) []*analyse.Measurement {
	all := v[measure]
	if measure == "" || d.Side == "" && !d.Unsided {
		return all
	}
	var list []*analyse.Measurement
	for _, m := range all {
		if m.Side == d.Side {
			list = append(list, m)
		}
	}
	return list
}

// mean is the value of an input: the mean of the measurements marked as selected,
// else of all. Rebuilt values that are not suspect come first; only where there is
// none, reported ones are taken, whose uncertainty is that of their rounding alone.
// Takes are independent; one caliper that was stored twice counts once.
func mean(list []*analyse.Measurement, unit physical.Unit, r *resolved) (physical.Quantity, string) {
	if selected := only(list, func(m *analyse.Measurement) bool { return m.Selected }); len(selected) > 0 {
		list = selected
	}
	used := once(only(list, rebuiltIn(unit)))
	value := func(m *analyse.Measurement) physical.Quantity { return *m.Rebuilt }
	if len(used) == 0 {
		used = only(list, func(m *analyse.Measurement) bool { _, ok := reportedIn(m, unit); return ok })
		value = func(m *analyse.Measurement) physical.Quantity { q, _ := reportedIn(m, unit); return q }
		if len(used) == 0 {
			return physical.Quantity{}, fmt.Sprintf("%s has no usable value (measurement %d: %s)", list[0].Measure, list[0].Number, list[0].Verdict)
		}
		r.notes = append(r.notes, used[0].Measure+" is the reported value; only its rounding is in the uncertainty")
	}
	sum, variance := 0.0, 0.0
	for _, m := range used {
		q := value(m)
		sum += q.Value
		variance += q.StdU * q.StdU
		r.used = append(r.used, fmt.Sprintf("measurement %d (%s)", m.Number, m.Measure))
	}
	n := float64(len(used))
	if len(used) > 1 {
		r.notes = append(r.notes, fmt.Sprintf("%s is the mean of %d", used[0].Measure, len(used)))
	}
	if slices.ContainsFunc(used, func(m *analyse.Measurement) bool { return m.Quantity == analyse.VelocityDifference }) {
		r.notes = append(r.notes, used[0].Measure+" was read from a line, which tells no direction")
	}
	return physical.Quantity{Value: sum / n, StdU: math.Sqrt(variance) / n, Unit: unit}, ""
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
	var kept []*analyse.Measurement
	for _, m := range list {
		if !slices.ContainsFunc(kept, func(k *analyse.Measurement) bool { return sameCaliper(k, m) }) {
			kept = append(kept, m)
		}
	}
	return kept
}

func sameCaliper(a, b *analyse.Measurement) bool {
	return a.SOPUID == b.SOPUID && a.Geometry == b.Geometry && a.Quantity == b.Quantity &&
		slices.Equal(a.Points, b.Points) && slices.Equal(a.Frames, b.Frames)
}

// reportedIn is the reported value in unit, its rounding as a rectangular
// distribution of half the last place (JCGM 100:2008 F.2.2.1).
func reportedIn(m *analyse.Measurement, unit physical.Unit) (physical.Quantity, bool) {
	if m.Reported == nil {
		return physical.Quantity{}, false
	}
	c, ok := physical.ParseUnit(m.Reported.Unit)
	if !ok || c.Unit != unit {
		return physical.Quantity{}, false
	}
	place, _ := physical.LastPlace(m.Reported.Text)
	return rounded(m.Reported.Value*c.Factor, place*c.Factor, unit), true
}

func rounded(value, place float64, unit physical.Unit) physical.Quantity {
	return physical.Quantity{Value: value, StdU: place / 2 / math.Sqrt(3), Unit: unit}
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
	return rounded(kg, place, kilogram), ""
}
