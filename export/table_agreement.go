package export

import (
	"math"

	"leadline/analyse"
	"leadline/export/deid"
)

func (w *writer) agreement() Table {
	type row = *analyse.Statistic
	d := definition[row]{
		name: "agreement", title: "Agreement",
		about:   "One row for each statistic of how well values agree: reported with rebuilt ones, repeats with each other, observers with each other.",
		subject: func(row) *deid.Subject { return nil },
		columns: []column[row]{
			{Column: Column{Name: "comparison", Heading: "Comparison", Kind: Text, Wording: InWords, Width: 20, Place: Front,
				Meaning: "reported-rebuilt (reported less rebuilt value), repeats (of one measure by one observer in one study), observers (two on the same image, the first less the second)."},
				cell: func(r row) Cell { return text(string(r.Compared)) }},
			{Column: Column{Name: "device", Heading: "Device", Kind: Text, Width: 42, Wrap: true, Place: Front, Rule: deid.Device,
				Meaning: "Maker, model and serial number of the device that made the images."},
				cell: func(r row) Cell { return text(w.device(r.Device)) }, ruleOf: settled[row]},
			{Column: Column{Heading: "Measure", Kind: Text, Width: 46, Wrap: true, Place: Front},
				cell: func(r row) Cell { return text(r.Title) }},
			{Column: Column{Name: "measure", Heading: "Measure id", Kind: Text, Width: 29, Place: Aside, Meaning: "The canonical kind of measurement; values that map onto none are in no statistic."},
				cell: func(r row) Cell { return text(r.Measure) }},
			{Column: Column{Name: "observer", Heading: "Observer", Kind: Text, Width: 12, Place: Front, Rule: deid.Person, Meaning: "Who measured; absent where the files name nobody."},
				cell: func(r row) Cell { return text(r.Observer) }},
			{Column: Column{Name: "other_observer", Heading: "Other observer", Kind: Text, Width: 12, Place: Front, Rule: deid.Person, Meaning: "The second observer, where two are compared."},
				cell: func(r row) Cell { return text(r.Other) }},
			{Column: Column{Name: "statistic", Heading: "Statistic", Kind: Text, Wording: InWords, Width: 24, Place: Front,
				Meaning: "bias, standard-deviation (of the differences), lower-limit and upper-limit (bias ∓ 1.96 standard deviations), proportional-bias (slope of the difference over the mean of both; Bland and Altman 1986, 1999); within-subject-sd, repeatability-coefficient (1.96·√2 times it), within-subject-cv (Bland and Altman 1996); icc-2-1, icc-3-1 (Shrout and Fleiss 1979)."},
				cell: func(r row) Cell { return text(r.Name) }},
			{Column: Column{Name: "value", Heading: "Value", Kind: Number, Width: 10, Places: agreementPlaces, Place: Front, Meaning: "Its value in unit."},
				cell: func(r row) Cell { return inPlacesOfInterval(number(r.Value), r) }},
			{Column: Column{Name: "low", Heading: "95 % from", Kind: Number, Width: 10, Places: agreementPlaces, Place: Front,
				Meaning: "Lower end of its 95 % confidence interval. Where n is above studies, values of one study are not independent and the interval is too narrow."},
				cell: func(r row) Cell { return inPlacesOfInterval(optional(r.Low), r) }},
			{Column: Column{Name: "high", Heading: "95 % to", Kind: Number, Width: 10, Places: agreementPlaces, Place: Front, Meaning: "Upper end of its 95 % confidence interval."},
				cell: func(r row) Cell { return inPlacesOfInterval(optional(r.High), r) }},
			{Column: Column{Name: "unit", Heading: "Unit", Kind: Text, Wording: UnitSigns, Width: 7, Place: Front, Meaning: "UCUM code of value, low and high."},
				cell: func(r row) Cell { return text(string(r.Unit)) }},
			{Column: Column{Name: "n", Heading: "n", Kind: Integer, Width: 6, Place: Front, Meaning: "What it was computed from: differences, values, or images that both observers measured."},
				cell: func(r row) Cell { return count(r.N) }},
			{Column: Column{Name: "studies", Heading: "Studies", Kind: Integer, Width: 8, Place: Front, Meaning: "Studies these come from."},
				cell: func(r row) Cell { return count(r.Studies) }},
			{Column: Column{Name: "mode", Heading: "Mode", Kind: Text, Width: 10, Place: Front,
				Meaning: "The kind of picture that the values were taken in: 2d, m-mode, spectral or trace; absent for intervals between frames. Values of two modes are of two methods and in rows of their own."},
				cell: func(r row) Cell { return text(string(r.Mode)) }},
			{Column: Column{Name: "note", Heading: "Note", Kind: Text, Width: 42, Wrap: true, Place: Front,
				Meaning: "Why there is no interval: where all differences are equal, the formulas would give one of no width, as if the value were certain."},
				cell: func(r row) Cell { return text(r.Note) }},
		},
	}
	list := w.result.Agreement
	return d.table(w.rules, len(list), pointers(list))
}

// agreementPlaces are the digits that a sheet shows after the point.
const agreementPlaces = 3

// inPlacesOfInterval shows a number to the second digit of half the interval of its
// row, so that a bias in seconds is not all zeros; where a row has none, to the second
// digit of its value. What is too small for any place counts as 0.
func inPlacesOfInterval(c Cell, r *analyse.Statistic) Cell {
	width := math.Abs(r.Value)
	if r.Low.Set && r.High.Set {
		width = (r.High.Value - r.Low.Value) / 2
	}
	if c.Kind != Number || !(width > smallestShown) {
		return c
	}
	return rounded(c.Number, placesOf(width))
}

// smallestShown is half of the last place that a sheet shows at most.
var smallestShown = 0.5 * math.Pow10(-mostPlaces)
