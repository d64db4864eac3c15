package indices

import (
	"fmt"
	"math"
	"strings"

	"leadline/analyse"
	"leadline/analyse/physical"
)

// Derive computes every index that the study has an input of. An index of which
// an input is missing or unusable is listed without a value, and its note says
// which; one of which nothing was measured is not listed.
func Derive(study *analyse.Study) []analyse.Index {
	have := gather(study)
	var list []analyse.Index
	for i := range All {
		d := &All[i]
		if d.touched(have) {
			list = append(list, d.row(study, have))
		}
	}
	return list
}

// touched tells that the study measured something that is the index' own.
func (d *Definition) touched(have values) bool {
	for i := range d.Inputs {
		in := &d.Inputs[i]
		if in.Common {
			continue
		}
		if len(have.of(in.Measure, d)) > 0 || len(have.of(in.Or, d)) > 0 {
			return true
		}
	}
	return false
}

// row is the index' line, with or without a value.
func (d *Definition) row(study *analyse.Study, have values) analyse.Index {
	x := analyse.Index{ID: d.ID, Title: d.Title, Formula: d.Formula, Reference: d.Reference}
	value, r, why := d.derive(study, have)
	x.Inputs = r.used
	if why != "" {
		x.Note = why
		return x
	}
	x.Value = &value
	x.Note = strings.Join(append(r.notes, nonEmpty(d.Caution)...), "; ")
	return x
}

func nonEmpty(s string) []string {
	if s == "" {
		return nil
	}
	return []string{s}
}

// resolved are the values found for the inputs, and what must be said of them.
type resolved struct {
	values []physical.Quantity
	used   []string
	notes  []string
}

// derive computes the index, with its uncertainty to first order (JCGM 100:2008
// equation 10): u² = Σ (∂f/∂x_i · u_i)².
func (d *Definition) derive(study *analyse.Study, have values) (physical.Quantity, resolved, string) {
	var r resolved
	var missing []string
	for i := range d.Inputs {
		if why := d.resolve(&d.Inputs[i], study, have, &r); why != "" {
			missing = append(missing, why)
		}
	}
	if len(missing) > 0 {
		return physical.Quantity{}, r, strings.Join(missing, "; ")
	}
	in := make([]float64, len(r.values))
	for i, q := range r.values {
		in[i] = q.Value
	}
	value, partials, refusal := d.Compute(in)
	if refusal != "" {
		return physical.Quantity{}, r, refusal
	}
	variance := 0.0
	for i, p := range partials {
		variance += math.Pow(p*r.values[i].StdU, 2)
	}
	q := physical.Quantity{Value: value, StdU: math.Sqrt(variance), Unit: d.Unit}
	if math.IsNaN(q.Value+q.StdU) || math.IsInf(q.Value, 0) || math.IsInf(q.StdU, 0) {
		return physical.Quantity{}, r, "the inputs give no finite value"
	}
	return q, r, ""
}

// resolve finds one input: the measure, else the one that may stand for it, else
// the index, else the header. An empty answer means that it was found.
func (d *Definition) resolve(in *Input, study *analyse.Study, have values, r *resolved) string {
	if in.Header != nil {
		q, why := in.Header(study)
		if why == "" {
			r.values, r.used = append(r.values, q), append(r.used, "study header ("+in.Symbol+")")
		}
		return why
	}
	why := fmt.Sprintf("%s was not measured", in.Measure)
	for _, id := range []string{in.Measure, in.Or} {
		if list := have.of(id, d); len(list) > 0 {
			q, unusable := mean(list, in.Unit, r)
			if unusable == "" {
				r.values = append(r.values, q)
				if id == in.Or {
					r.notes = append(r.notes, in.Symbol+" is "+in.Or)
				}
				return ""
			}
			why = unusable
		}
	}
	if in.As != nil && in.As.touched(have) {
		q, from, unusable := in.As.derive(study, have)
		if unusable == "" {
			r.values, r.used = append(r.values, q), append(r.used, from.used...)
			r.notes = append(append(r.notes, from.notes...), in.Symbol+" is "+in.As.Formula)
			return ""
		}
		why = unusable
	}
	return why
}
