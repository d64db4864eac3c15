package export

import (
	"math"
	"strings"

	"leadline/analyse"
	"leadline/analyse/physical"
	"leadline/export/deid"
)

func measurementValues() []column[measurementRow] {
	return []column[measurementRow]{
		{Column: Column{Name: "quantity", Heading: "Quantity", Kind: Text, Wording: InWords, Width: 17, Place: Front,
			Meaning: "What kind of quantity it is: distance, duration, velocity …"},
			cell: func(r measurementRow) Cell { return text(string(r.item.Quantity)) }},
		{Column: Column{Name: "rebuilt", Heading: "Rebuilt value", Kind: Number, Width: 10, Place: Front,
			Meaning: "The value computed from caliper and calibration, in rebuilt_unit."},
			cell: func(r measurementRow) Cell { return value(r.item.Rebuilt) }},
		{Column: Column{Name: "rebuilt_unit", Heading: "Unit", Kind: Text, Wording: UnitSigns, Width: 7, Place: Front, Meaning: "UCUM code of rebuilt, uncertainty, difference and tolerance."},
			cell: func(r measurementRow) Cell { return unit(r.item.Rebuilt) }},
		{Column: Column{Name: "uncertainty", Heading: "U (k = 2)", Kind: Number, Width: 9, Place: Front,
			Meaning: "Expanded uncertainty U of the rebuilt value, coverage factor k = 2 (JCGM 100), in rebuilt_unit. It holds the placing error and the calibration tolerance of the protocol where it gives them (the note says so), else the step of a pixel alone."},
			cell: func(r measurementRow) Cell { return uncertainty(r.item.Rebuilt) }},
		{Column: Column{Name: "reported", Heading: "Reported value", Kind: Number, Width: 12, Place: Front,
			Meaning: "The value the archive gives, with the digits it was written with, in reported_unit."},
			cell: func(r measurementRow) Cell { return reported(r.item.Reported) }},
		{Column: Column{Name: "reported_unit", Heading: "Reported unit", Kind: Text, Wording: UnitSigns, Width: 11, Place: Front, Rule: deid.Words, Meaning: "Unit of reported, as written."},
			cell:   func(r measurementRow) Cell { return reportedUnit(r.item.Reported) },
			ruleOf: unitRule},
		{Column: Column{Name: "difference", Heading: "Difference", Kind: Number, Width: 12, Place: Front,
			Meaning: "Reported minus rebuilt, in rebuilt_unit; absent where they cannot be compared."},
			cell: func(r measurementRow) Cell { return inPlacesOf(optional(r.item.Difference), r.item.Rebuilt) }},
		{Column: Column{Name: "tolerance", Heading: "Tolerance", Kind: Number, Width: 11, Place: Front,
			Meaning: "What the difference may be: half a unit of the reported number's last place + uncertainty, in rebuilt_unit."},
			cell: func(r measurementRow) Cell { return inPlacesOf(optional(r.item.Tolerance), r.item.Rebuilt) }},
		{Column: Column{Name: "verdict", Heading: "Verdict", Kind: Text, Wording: InWords, Width: 14, Place: Front, Signal: ByWord,
			Meaning: "agrees (|difference| ≤ tolerance), differs, suspect (the calibration contradicts its own image), reported-only (no caliper), rebuilt-only (nothing reported), not-rebuilt (a caliper that cannot be used; the note says why)."},
			cell: func(r measurementRow) Cell { return text(string(r.item.Verdict)) }},
		{Column: Column{Name: "note", Heading: "Note", Kind: Text, Width: 42, Wrap: true, Place: Front, Rule: deid.Message,
			Meaning: "What else is to be known, why a value is absent, and typical faults that would explain a difference, each tested with the tolerance of the measurement."},
			cell: func(r measurementRow) Cell { return text(r.item.Note) }},
		{Column: Column{Name: "reference", Heading: "Reference", Kind: Text, Width: 60, Wrap: true, Place: Aside,
			Meaning: "Each row of the reference table that the rebuilt value, else the reported one, was held against: " + comparedMeaning},
			cell: func(r measurementRow) Cell { return text(joinCompared("", r.item.Compared)) }},
	}
}

// measurementPlanes tell the mode, and the second plane where there are two.
func measurementPlanes() []column[measurementRow] {
	return []column[measurementRow]{
		{Column: Column{Name: "mode", Heading: "Mode", Kind: Text, Wording: InWords, Width: 10, Place: Aside,
			Meaning: "The kind of picture that the caliper lies in: 2d, m-mode, spectral or trace; without a rebuilt value the one that the report says. Values of two modes are of two methods and never averaged."},
			cell: func(r measurementRow) Cell { return text(string(r.item.Mode)) }},
		{Column: Column{Name: "second_sop_uid", Heading: "Second image UID", Kind: Text, Width: 18, Place: Back, Rule: deid.UID,
			Meaning: "SOP Instance UID of the image of the second plane of a biplane volume."},
			cell: second(func(p *analyse.SecondPlane) Cell { return text(p.SOPUID) })},
		{Column: Column{Name: "second_frame", Heading: "Second frame", Kind: Points, Width: 8, Place: Back,
			Meaning: "Frame of the second plane, from 1."},
			cell: second(func(p *analyse.SecondPlane) Cell { return numbers(p.Frames) })},
		{Column: Column{Name: "second_points", Heading: "Second points (pixels)", Kind: Points, Unit: "{pixel}", Width: 24, Place: Back,
			Meaning: "Pixel coordinates of the second plane, written as points are: both ends of its long axis, then its contour."},
			cell: second(func(p *analyse.SecondPlane) Cell { return pairs(p.Points) })},
		{Column: Column{Name: "second_region", Heading: "Second region", Kind: Integer, Width: 8, Place: Back,
			Meaning: "Ordinal of the calibrated region used for the second plane; absent where Pixel Spacing was, or nothing was rebuilt."},
			cell: second(func(p *analyse.SecondPlane) Cell {
				if p.Region == 0 {
					return Cell{}
				}
				return count(p.Region)
			})},
	}
}

// second is a cell of the second plane, absent where there is none.
func second(cell func(*analyse.SecondPlane) Cell) func(measurementRow) Cell {
	return func(r measurementRow) Cell {
		if r.item.Second == nil {
			return Cell{}
		}
		return cell(r.item.Second)
	}
}

// longestUnit is more than any unit code of the trade has: what is longer is text.
const longestUnit = 16

// unitRule keeps what can be a unit; a text in the place of one is free text.
func unitRule(r measurementRow) deid.Rule {
	if r.item.Reported != nil && len(r.item.Reported.Unit) > longestUnit {
		return deid.Words
	}
	return deid.Keep
}

// value shows a quantity to the place of the second digit of its uncertainty: at
// most two digits of U mean anything (JCGM 100:2008 7.2.6).
func value(q *physical.Quantity) Cell {
	if q == nil {
		return Cell{}
	}
	return inPlacesOf(number(q.Value), q)
}

func uncertainty(q *physical.Quantity) Cell {
	if q == nil {
		return Cell{}
	}
	return inPlacesOf(number(q.ExpandedU()), q)
}

func unit(q *physical.Quantity) Cell {
	if q == nil {
		return Cell{}
	}
	return text(string(q.Unit))
}

// inPlacesOf shows a number to the places of q; whole where q has no uncertainty.
func inPlacesOf(c Cell, q *physical.Quantity) Cell {
	if c.Kind != Number || q == nil || !(q.ExpandedU() > 0) {
		return c
	}
	return rounded(c.Number, placesOf(q.ExpandedU()))
}

// mostPlaces bounds what a sheet shows after the point.
const mostPlaces = 6

// placesOf is the number of places after the point of the second digit of u > 0.
func placesOf(u float64) int {
	return min(max(1-int(math.Floor(math.Log10(u))), 0), mostPlaces)
}

// reported keeps the digits as written where they are a plain decimal: the last
// place decides the tolerance.
func reported(r *analyse.Reported) Cell {
	if r == nil {
		return Cell{}
	}
	c := number(r.Value)
	written := strings.TrimSpace(r.Text)
	if c.Kind != Number || !decimal(written) {
		return c
	}
	c.Text, c.Rounded = written, true
	if _, fraction, ok := strings.Cut(written, "."); ok {
		c.Places = len(fraction)
	}
	return c
}

func reportedUnit(r *analyse.Reported) Cell {
	if r == nil {
		return Cell{}
	}
	return text(r.Unit)
}

// decimal tells a number written as sign, digits and perhaps a fraction.
func decimal(s string) bool {
	whole, fraction, point := strings.Cut(strings.TrimPrefix(s, "-"), ".")
	return digits(whole) && (!point || digits(fraction))
}

func digits(s string) bool {
	return s != "" && strings.Trim(s, "0123456789") == ""
}
