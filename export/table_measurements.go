package export

import (
	"slices"
	"strconv"
	"strings"

	"leadline/analyse"
	"leadline/export/deid"
	"leadline/ingest"
)

type measurementRow = part[*analyse.Measurement]

func (w *writer) measurements() Table {
	d := definition[measurementRow]{
		name: "measurements", title: "Measurements",
		about:   "One row for each quantity that was measured: reported, rebuilt from its caliper, or both.",
		subject: about[*analyse.Measurement],
		columns: slices.Concat(measurementIdentity(), measurementCaliper(), measurementValues(), measurementPlanes()),
	}
	n, rows := parts(w, func(s *analyse.Study) []analyse.Measurement { return s.Measurements })
	return d.table(w.rules, n, rows)
}

func measurementIdentity() []column[measurementRow] {
	return []column[measurementRow]{
		studyNumber(ofPart[*analyse.Measurement]),
		studyDate(ofPart[*analyse.Measurement]),
		studyUID(ofPart[*analyse.Measurement]),
		{Column: Column{Name: "measurement", Heading: "No.", Kind: Integer, Width: 6, Place: Front,
			Meaning: "Number of the measurement within the study, from 1."},
			cell: func(r measurementRow) Cell { return count(r.item.Number) }},
		{Column: Column{Name: "measure", Heading: "Measure id", Kind: Text, Width: 29, Place: Aside,
			Meaning: "The canonical kind of measurement; absent where code and label map onto none."},
			cell: func(r measurementRow) Cell { return text(r.item.Measure) }},
		{Column: Column{Heading: "Measure", Kind: Text, Width: 34, Wrap: true, Place: Front},
			cell: func(r measurementRow) Cell { return text(r.item.Title) }},
		{Column: Column{Name: "label", Heading: "Label", Kind: Text, Width: 26, Wrap: true, Place: Front, Rule: deid.Words,
			Meaning: "The code meaning of the concept name (reports), the text beside the graphic (annotations) or the label column (caliper table)."},
			cell:   func(r measurementRow) Cell { return text(r.item.Label) },
			ruleOf: labelRule},
		{Column: Column{Name: "code", Heading: "Code", Kind: Text, Width: 12, Place: Back, Meaning: "Code value of the concept name."},
			cell: func(r measurementRow) Cell { return text(r.item.Code) }},
		{Column: Column{Name: "scheme", Heading: "Scheme", Kind: Text, Width: 9, Place: Back, Meaning: "Coding scheme designator of the code."},
			cell: func(r measurementRow) Cell { return text(r.item.Scheme) }},
		{Column: Column{Name: "source", Heading: "Source", Kind: Text, Width: 13, Place: Aside,
			Meaning: "Where it was found: report, presentation (state) or (caliper) table."},
			cell: func(r measurementRow) Cell { return text(string(r.item.Source)) }},
		{Column: Column{Name: "source_uid", Heading: "Source UID", Kind: Text, Width: 18, Place: Back, Rule: deid.UID,
			Meaning: "SOP Instance UID of the report or presentation state."},
			cell: func(r measurementRow) Cell { return text(r.item.SourceUID) }},
		{Column: Column{Name: "sop_uid", Heading: "Image UID", Kind: Text, Width: 18, Place: Back, Rule: deid.UID,
			Meaning: "SOP Instance UID of the image the caliper lies on."},
			cell: func(r measurementRow) Cell { return text(r.item.SOPUID) }},
		{Column: Column{Name: "frame", Heading: "Frame", Kind: Points, Width: 8, Place: Aside,
			Meaning: "Frame of the image, from 1; two frames separated by a blank for an interval."},
			cell: func(r measurementRow) Cell { return numbers(r.item.Frames) }},
		{Column: Column{Name: "observer", Heading: "Observer", Kind: Text, Width: 12, Place: Aside, Rule: deid.Person, Meaning: "Who measured."},
			cell: func(r measurementRow) Cell { return text(r.item.Observer) }},
	}
}

// labelRule keeps the meaning of a public code; all other labels are free text.
func labelRule(r measurementRow) deid.Rule {
	if r.item.Source == analyse.SourceReport && public(r.item.Scheme) {
		return deid.Keep
	}
	return deid.Words
}

func measurementCaliper() []column[measurementRow] {
	return []column[measurementRow]{
		{Column: Column{Name: "geometry", Heading: "Geometry", Kind: Text, Wording: InWords, Width: 10, Place: Aside,
			Meaning: "Shape of the caliper: point, line, polyline, polygon, ellipse (both ends of the major, then of the minor axis), circle (centre, then a point on it), discs (both ends of the long axis, then the contour), biplane-discs (discs in each of two planes, see second_points), frames."},
			cell: func(r measurementRow) Cell { return text(string(r.item.Geometry)) }},
		{Column: Column{Name: "points", Heading: "Points (pixels)", Kind: Points, Unit: "{pixel}", Width: 24, Place: Back,
			Meaning: "Pixel coordinates of the caliper as x,y pairs separated by blanks; continuous image coordinates: the corner of the top left pixel is 0,0 and its centre 0.5,0.5. Numbers only, so never guarded against being taken for a formula."},
			cell: func(r measurementRow) Cell { return pairs(r.item.Points) }},
		{Column: Column{Name: "region", Heading: "Region", Kind: Integer, Width: 8, Place: Aside,
			Meaning: "Ordinal of the calibrated region used, from 1; absent where none was."},
			cell: func(r measurementRow) Cell {
				if r.item.Region == 0 {
					return Cell{}
				}
				return count(r.item.Region)
			}},
		{Column: Column{Name: "calibration", Heading: "Calibration", Kind: Text, Wording: InWords, Width: 13, Place: Aside, Signal: ByWord,
			Meaning: "What turned pixels into physical values: region, pixel-spacing, frame-timing or none."},
			cell: func(r measurementRow) Cell { return text(string(r.item.Calibration)) }},
	}
}

// pairs writes points as x,y separated by blanks.
func pairs(points []ingest.Point) Cell {
	if len(points) == 0 {
		return Cell{}
	}
	words := make([]string, len(points))
	for i, p := range points {
		words[i] = shortest(p.X) + "," + shortest(p.Y)
	}
	return Cell{Kind: Points, Text: strings.Join(words, " ")}
}

func numbers(values []int) Cell {
	switch len(values) {
	case 0:
		return Cell{}
	case 1:
		return count(values[0])
	}
	words := make([]string, len(values))
	for i, v := range values {
		words[i] = strconv.Itoa(v)
	}
	return Cell{Kind: Points, Text: strings.Join(words, " ")}
}
