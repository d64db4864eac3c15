package indices

import (
	"fmt"
	"math"

	"leadline/analyse/physical"
)

// scheme is a set of lung zones that is scored on both sides. shared zones belong to
// another scheme as well; own ones tell that this scheme was used.
type scheme struct {
	zones       int
	shared, own []string
	reference   string
}

// Those of 10 are those of 6 with two more at the back of each side; that the two are an
// upper and a lower one was not seen in print. Others who score the back leave the
// lateral zones out instead (Szymanski 2021, BMC Pediatr, seen): that is no scheme here.
var schemes = []scheme{
	{6, []string{"upper-anterior", "lower-anterior"}, []string{"lateral"}, "Brat 2015, JAMA Pediatr 169:e151797 (abstract seen)"},
	{8, []string{"upper-anterior", "lower-anterior"}, []string{"upper-lateral", "lower-lateral"}, "common practice, no source"},
	{10, []string{"upper-anterior", "lower-anterior", "lateral"}, []string{"upper-posterior", "lower-posterior"}, "Loi 2021, Am J Respir Crit Care Med; from memory"},
	{12, []string{"upper-anterior", "lower-anterior", "upper-lateral", "lower-lateral"}, []string{"upper-posterior", "lower-posterior"}, "common practice, no source"},
}

// mostPerZone is the highest grade of the scale that is summed.
const mostPerZone = 3

// lungScores are the totals of all schemes. Where a zone was not scored there is no
// total, never one made up from the others.
func lungScores() []Definition {
	var list []Definition
	for _, s := range schemes {
		d := Definition{
			ID:    fmt.Sprintf("lung-score-%d-zones", s.zones),
			Title: fmt.Sprintf("Lung score of %d zones, 0 to %d", s.zones, mostPerZone*s.zones),
			Unit:  physical.One, Reference: s.reference,
			Caution: "grades of 0 to 3; totals of other schemes or grades are other numbers, and the transducer changes the score",
			Compute: sumOfGrades,
		}
		for _, side := range []string{"left", "right"} {
			d.Inputs = append(d.Inputs, zones(s.shared, side, true)...)
			d.Inputs = append(d.Inputs, zones(s.own, side, false)...)
		}
		for i := range d.Inputs {
			if i > 0 {
				d.Formula += " + "
			}
			d.Formula += d.Inputs[i].Symbol
		}
		list = append(list, d)
	}
	return list
}

func zones(ids []string, side string, common bool) []Input {
	var list []Input
	for _, id := range ids {
		list = append(list, Input{Symbol: side + " " + id, Measure: "lung-score-" + id, Unit: physical.One, Side: side, Count: true, Common: common})
	}
	return list
}

func sumOfGrades(in []float64) (float64, []float64, string) {
	total, by := 0.0, make([]float64, len(in))
	for i, grade := range in {
		if grade < 0 || grade > mostPerZone || grade != math.Trunc(grade) {
			return 0, nil, "a zone has a grade that is not 0, 1, 2 or 3"
		}
		total, by[i] = total+grade, 1
	}
	return total, by, ""
}
