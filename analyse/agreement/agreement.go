// Package agreement gathers comparable values of all studies and says how well they
// agree: reported with rebuilt values, repeats with each other, observers with each
// other. Values of suspect calibrations and without a known measure are in none.
//
// Values are never pooled over devices, measures or modes: a length of a 2D picture and
// one of an M-mode strip are of two methods.
package agreement

import (
	"cmp"
	"maps"
	"slices"

	"leadline/analyse"
	"leadline/analyse/physical"
	"leadline/analyse/stats"
	"leadline/ingest"
)

// Of computes all statistics, ordered by comparison, device, measure and observers.
func Of(studies []*analyse.Study) []analyse.Statistic {
	reported, repeats, observers := groups{}, groups{}, groups{}
	for _, s := range studies {
		values := usable(s)
		reported.compareReported(s, values)
		repeats.compareRepeats(s, values)
		observers.compareObservers(s, values)
	}
	list := reported.statistics(analyse.ReportedRebuilt, ofReported)
	list = append(list, repeats.statistics(analyse.Repeats, ofRepeats)...)
	return append(list, observers.statistics(analyse.Observers, ofObservers)...)
}

// key tells whose values are compared.
type key struct {
	device, measure string
	mode            analyse.Mode
	unit            physical.Unit
	observer, other string
}

func (k key) compare(l key) int {
	return cmp.Or(cmp.Compare(k.device, l.device), cmp.Compare(k.measure, l.measure), cmp.Compare(k.mode, l.mode), cmp.Compare(k.unit, l.unit),
		cmp.Compare(k.observer, l.observer), cmp.Compare(k.other, l.other))
}

// group holds what is compared: pairs of values, or repeats of one thing.
type group struct {
	device  *ingest.Device
	title   string
	sets    [][]float64
	studies map[*analyse.Study]bool
}

type groups map[key]*group

// add adds a set of values like v, of one study.
func (g groups) add(k key, s *analyse.Study, v value, set []float64) {
	one := g[k]
	if one == nil {
		one = &group{device: v.device, title: v.Title, studies: map[*analyse.Study]bool{}}
		g[k] = one
	}
	one.sets = append(one.sets, set)
	one.studies[s] = true
}

func (g groups) statistics(what analyse.Compared, compute func(*group, physical.Unit) []analyse.Statistic) []analyse.Statistic {
	var list []analyse.Statistic
	for _, k := range slices.SortedFunc(maps.Keys(g), key.compare) {
		for _, one := range compute(g[k], k.unit) {
			one.Compared, one.Device, one.Measure, one.Title, one.Mode = what, g[k].device, k.measure, g[k].title, k.mode
			one.Observer, one.Other, one.Studies = k.observer, k.other, len(g[k].studies)
			list = append(list, one)
		}
	}
	return list
}

// differences are those of pairs, first less second, with the means.
func (g *group) differences() (differences, means []float64) {
	for _, pair := range g.sets {
		differences = append(differences, pair[0]-pair[1])
		means = append(means, (pair[0]+pair[1])/2)
	}
	return differences, means
}

func ofReported(g *group, unit physical.Unit) []analyse.Statistic {
	a, ok := stats.BlandAltman(g.differences())
	if !ok {
		return nil
	}
	list := []analyse.Statistic{
		estimate("bias", a.Bias, unit, a.N),
		{Name: "standard-deviation", Value: a.SD, Unit: unit, N: a.N, Note: scatterNote(a.SD)},
		estimate("lower-limit", a.Lower, unit, a.N),
		estimate("upper-limit", a.Upper, unit, a.N),
	}
	if a.HasProportional {
		list = append(list, estimate("proportional-bias", a.Proportional, physical.One, a.N))
	}
	return list
}

func ofRepeats(g *group, unit physical.Unit) []analyse.Statistic {
	r, ok := stats.Repeats(g.sets)
	if !ok {
		return nil
	}
	list := []analyse.Statistic{
		estimate("within-subject-sd", r.WithinSD, unit, r.N),
		estimate("repeatability-coefficient", r.Coefficient, unit, r.N),
	}
	if r.HasCV {
		list = append(list, analyse.Statistic{Name: "within-subject-cv", Value: 100 * r.CV, Unit: physical.Percent, N: r.N, Note: scatterNote(r.CV)})
	}
	return list
}

// leastTargets is how many images an intraclass correlation needs. Of two it can
// come out anywhere, below −1 too.
const leastTargets = 3

// ofObservers adds the intraclass correlations to bias and limits.
func ofObservers(g *group, unit physical.Unit) []analyse.Statistic {
	list := ofReported(g, unit)
	m, ok := stats.Squares(g.sets)
	if !ok || m.Targets < leastTargets {
		return list
	}
	if e, ok := m.ICC21(); ok {
		list = append(list, estimate("icc-2-1", e, physical.One, m.Targets))
	}
	if e, ok := m.ICC31(); ok {
		list = append(list, estimate("icc-3-1", e, physical.One, m.Targets))
	}
	return list
}

// noScatter is said instead of an interval of no width.
const noScatter = "the values leave no scatter to tell an interval by; pixels come in steps, so this is no proof that nothing varies"

func scatterNote(spread float64) string {
	if spread > 0 {
		return ""
	}
	return noScatter
}

func estimate(name string, e stats.Estimate, unit physical.Unit, n int) analyse.Statistic {
	s := analyse.Statistic{Name: name, Value: e.Value, Unit: unit, N: n}
	if !e.HasInterval() {
		s.Note = noScatter
		return s
	}
	s.Low, s.High = ingest.Some(e.Low), ingest.Some(e.High)
	return s
}
