package indices

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"leadline/analyse"
	"leadline/analyse/measures"
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
			x, _, _ := d.row(study, have)
			list = append(list, x)
		}
	}
	return slices.Clone(list) // without the room that growing left
}

// touched tells that the study measured something that is the index' own.
func (d *Definition) touched(have values) bool {
	for i := range d.Inputs {
		in := &d.Inputs[i]
		if in.Common {
			continue
		}
		if len(have.of(in.Measure, in, d)) > 0 || len(have.of(in.Or, in, d)) > 0 {
			return true
		}
	}
	return false
}

// row is the index' line, with or without a value.
func (d *Definition) row(study *analyse.Study, have values) (analyse.Index, resolved, term) {
	x := analyse.Index{IndexKind: &analyse.IndexKind{ID: d.ID, Title: d.Title, Formula: d.Formula, Reference: d.Reference}}
	have, methods := have.oneMethod(d)
	value, r, why := d.derive(study, have)
	x.Inputs = r.used
	if why != "" {
		x.Note = why
		return x, r, value
	}
	x.Value = &physical.Quantity{Value: value.value, StdU: value.stdU(), Unit: d.Unit}
	x.Note = strings.Join(slices.Concat(methods, r.notes, nonEmpty(r.inCommon()), nonEmpty(d.Caution)), "; ")
	return x, r, value
}

func nonEmpty(s string) []string {
	if s == "" {
		return nil
	}
	return []string{s}
}

// resolved are the values found for the inputs, and what must be said of them.
type resolved struct {
	values []term
	// by are the derivatives of the index by them.
	by    []float64
	used  []string
	notes []string
	// ends tells for each input how many of used are its own and of those before it.
	ends []int
	// shared counts the measurements that each shared coordinate moves; nil while there
	// is none.
	shared map[*analyse.Coordinate]int
}

// derive computes the index, with its uncertainty to first order. Inputs have errors
// in common: the coordinates of points that their calipers share, and the scale of a
// device. With u_i,c what the cause c adds to the input i (JCGM 100:2008 5.2 and
// F.1.2.3; equation 13 with the covariances Σ_c u_i,c · u_j,c):
//
//	u² = Σ_c (Σ_i ∂f/∂x_i · u_i,c)²
func (d *Definition) derive(study *analyse.Study, have values) (term, resolved, string) {
	var r resolved
	var missing []string
	for i := range d.Inputs {
		if why := d.resolve(&d.Inputs[i], study, have, &r); why != "" {
			missing = append(missing, why)
		}
		r.ends = append(r.ends, len(r.used))
	}
	if len(missing) > 0 {
		return term{}, r, strings.Join(missing, "; ")
	}
	in := make([]float64, len(r.values))
	for i, t := range r.values {
		in[i] = t.value
		if d.Inputs[i].Divides && nearZero(t) {
			r.notes = append(r.notes, d.Inputs[i].Symbol+nearZeroWords)
		}
	}
	value, partials, refusal := d.Compute(in)
	if refusal != "" {
		return term{}, r, refusal
	}
	r.by = partials
	result := combined(r.values, partials)
	result.value = value
	if u := result.stdU(); math.IsNaN(value+u) || math.IsInf(value, 0) || math.IsInf(u, 0) {
		return term{}, r, "the inputs give no finite value"
	}
	return result, r, ""
}

const nearZeroWords = " is within its U of 0, and the formula divides by it: the value may be of any size, and U, which comes from first derivatives, does not hold"

// nearZero tells that an input cannot be told from 0. First-order propagation wants a
// formula that is nearly straight over the uncertainty of its inputs (JCGM 101:2008
// 5.8; from memory), which no quotient is there; that the line is drawn at U is common
// sense, no source.
func nearZero(t term) bool {
	return math.Abs(t.value) <= physical.CoverageFactor*t.stdU()
}

// resolve finds one input: the measure, else the one that may stand for it, else
// the index, else the header or what is assumed. An empty answer means that it was
// found.
func (d *Definition) resolve(in *Input, study *analyse.Study, have values, r *resolved) string {
	if in.Assumed.Unit != "" {
		r.values = append(r.values, alone(in.Assumed.Value, cause{kind: ofInput, name: in.Symbol}, in.Assumed.StdU))
		r.used = append(r.used, "assumed, not measured ("+in.Symbol+")")
		return ""
	}
	if in.Header != nil {
		q, why := in.Header(study)
		if why == "" {
			r.values = append(r.values, alone(q.Value, cause{kind: ofInput, name: in.Symbol}, q.StdU))
			r.used = append(r.used, "study header ("+in.Symbol+")")
		}
		return why
	}
	why := missing(in, d)
	for _, id := range []string{in.Measure, in.Or} {
		if list := have.of(id, in, d); len(list) > 0 {
			t, unusable := have.mean(list, in, r)
			if unusable == "" {
				r.values = append(r.values, t)
				if id == in.Or {
					r.notes = append(r.notes, in.Symbol+" is "+in.Or)
				}
				return ""
			}
			why = unusable
		}
	}
	if in.As != nil && in.As.touched(have) {
		t, from, unusable := in.As.derive(study, have)
		if unusable == "" {
			r.values, r.used = append(r.values, t), append(r.used, from.used...)
			r.notes = append(append(r.notes, from.notes...), in.Symbol+" is "+in.As.Formula)
			r.join(from)
			return ""
		}
		why = unusable
	}
	return why
}

func missing(in *Input, d *Definition) string {
	side := sideOf(in, d)
	if side != "" {
		side = " (" + side + ")"
	}
	return fmt.Sprintf("%s%s was not measured", measures.TitleOf(in.Measure), side)
}
