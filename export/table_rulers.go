package export

import (
	"leadline/analyse"
	"leadline/analyse/ruler"
	"leadline/export/deid"
	"leadline/ingest"
)

// coverage is the factor k of the expanded uncertainties in this table.
const coverage = 2

func (w *writer) rulers() Table {
	identity := imageIdentity()
	d := definition[imageRow]{
		name: "rulers", title: "Rulers",
		about:   "One row for each picture in which a ruler was looked for (--pixels). Nothing here is used by a measurement.",
		subject: about[**analyse.Image],
		columns: append(identity[:6:6], w.rulerFacts()...),
	}
	n, rows := parts(w, func(s *analyse.Study) []*analyse.Image {
		var looked []*analyse.Image
		for _, img := range s.Images {
			if img.Ruler != nil {
				looked = append(looked, img)
			}
		}
		return looked
	})
	return d.table(w.rules, n, rows)
}

func (w *writer) rulerFacts() []column[imageRow] {
	// found is a number of the marks, absent where there are none.
	found := func(of func(*analyse.Ruler) float64) func(imageRow) Cell {
		return func(r imageRow) Cell {
			if image(r).Ruler.Ticks == 0 {
				return Cell{}
			}
			return number(of(image(r).Ruler))
		}
	}
	counted := func(of func(*analyse.Ruler) int) func(imageRow) Cell {
		return func(r imageRow) Cell {
			if image(r).Ruler.Ticks == 0 {
				return Cell{}
			}
			return count(of(image(r).Ruler))
		}
	}
	return []column[imageRow]{
		{Column: Column{Name: "device", Heading: "Device", Kind: Text, Width: 38, Wrap: true, Rule: deid.Device,
			Meaning: "Maker, model and serial number of the device that made the image."},
			cell: func(r imageRow) Cell { return text(w.device(image(r).Device)) }, ruleOf: settled[imageRow]},
		{Column: Column{Name: "status", Heading: "Ruler", Kind: Text, Wording: InWords, Width: 13, Place: Front,
			Meaning: "read (its scale is given), unknown-step (a ruler, but what a step stands for is not certain), uncertain (marks that may be one), none, not-decoded (the picture was not unpacked). Only read has a scale."},
			cell: func(r imageRow) Cell { return text(string(image(r).Ruler.Status)) }},
		{Column: Column{Name: "ruler_ratio", Heading: "Ruler ÷ header", Kind: Number, Unit: "1", Width: 9, Places: 4, Place: Front,
			Meaning: "ruler_per_cm ÷ header_per_cm; 0.5 is a picture at half its size."},
			cell: func(r imageRow) Cell { return optional(image(r).Ruler.Ratio) }},
		{Column: Column{Name: "ratio_uncertainty", Heading: "U (k = 2) of the ratio", Kind: Number, Unit: "1", Width: 9, Places: 4, Place: Front,
			Meaning: "Expanded uncertainty of ruler_ratio, coverage factor k = 2: what reading the ruler contributes, the header taken as exact."},
			cell: func(r imageRow) Cell { return expanded(image(r).Ruler.U) }},
		{Column: Column{Name: "ruler_per_cm", Heading: "Ruler (pixels per cm)", Kind: Number, Unit: "{pixel}/cm", Width: 10, Places: 3, Place: Front,
			Meaning: "Pixels to a centimetre of depth by the ruler."},
			cell: func(r imageRow) Cell { return perCM(image(r).Ruler, false) }},
		{Column: Column{Name: "uncertainty", Heading: "U (k = 2)", Kind: Number, Unit: "{pixel}/cm", Width: 9, Places: 3, Place: Front,
			Meaning: "Expanded uncertainty of ruler_per_cm, coverage factor k = 2 (JCGM 100; straight line through the rows of the ticks)."},
			cell: func(r imageRow) Cell { return perCM(image(r).Ruler, true) }},
		{Column: Column{Name: "header_per_cm", Heading: "Header (pixels per cm)", Kind: Number, Unit: "{pixel}/cm", Width: 10, Places: 3, Place: Front,
			Meaning: "Pixels to a centimetre of depth by the header."},
			cell: func(r imageRow) Cell { return optional(image(r).Ruler.HeaderPerCM) }},
		{Column: Column{Name: "header_from", Heading: "Header's scale from", Kind: Text, Width: 12, Place: Aside,
			Meaning: "region (Physical Delta Y of the tallest 2D region) or pixel-spacing; absent where the header gives none."},
			cell: func(r imageRow) Cell { return text(string(image(r).Ruler.From)) }},
		{Column: Column{Name: "estimated_mm_per_pixel_y", Heading: "Estimated mm per pixel y", Kind: Number, Unit: "mm", Width: 10, Places: 4, Place: Front,
			Meaning: "Size of a pixel along the depth by the ruler alone, where the header gives none: an estimate that is offered and used nowhere."},
			cell: func(r imageRow) Cell { return optional(image(r).Ruler.EstimatedMM) }},
		{Column: Column{Name: "estimated_uncertainty", Heading: "U (k = 2) of the estimate", Kind: Number, Unit: "mm", Width: 9, Place: Aside, Places: 4,
			Meaning: "Expanded uncertainty of estimated_mm_per_pixel_y, coverage factor k = 2."},
			cell: func(r imageRow) Cell { return expanded(image(r).Ruler.EstimatedU) }},
		{Column: Column{Name: "step", Heading: "Step (mm)", Kind: Number, Unit: "mm", Width: 8, Places: 1, Place: Front,
			Meaning: "What the distance of two ticks stands for; absent where it is not certain."},
			cell: func(r imageRow) Cell { return step(image(r).Ruler) }},
		{Column: Column{Name: "ticks", Heading: "Ticks", Kind: Integer, Width: 7, Place: Front, Meaning: "Ticks that were found; see expected for how sure that makes."},
			cell: counted(func(r *analyse.Ruler) int { return r.Ticks })},
		{Column: Column{Name: "expected", Heading: "Expected", Kind: Integer, Width: 9, Place: Aside, Meaning: "Ticks that equal distances want from the first to the last found."},
			cell: counted(func(r *analyse.Ruler) int { return r.Expected })},
		{Column: Column{Name: "larger_every", Heading: "Larger every", Kind: Integer, Width: 8, Place: Aside, Meaning: "How many ticks there are from one larger mark to the next; 0 where all are alike."},
			cell: counted(func(r *analyse.Ruler) int { return r.Every })},
		{Column: Column{Name: "pitch", Heading: "Pitch (pixels)", Kind: Number, Unit: "{pixel}", Width: 9, Place: Aside, Places: 3, Meaning: "Distance of two ticks."},
			cell: found(func(r *analyse.Ruler) float64 { return r.Pitch })},
		{Column: Column{Name: "residual", Heading: "Scatter (pixels)", Kind: Number, Unit: "{pixel}", Width: 9, Place: Aside, Places: 2, Meaning: "How far the ticks lie off equal distances, root mean square."},
			cell: found(func(r *analyse.Ruler) float64 { return r.Residual })},
		{Column: Column{Name: "x", Heading: "x (pixel)", Kind: Number, Unit: "{pixel}", Width: 8, Place: Aside, Places: 1, Meaning: "Where the ruler stands: the column of the middle of its marks, in continuous image coordinates."},
			cell: found(func(r *analyse.Ruler) float64 { return r.X })},
		{Column: Column{Name: "y_first", Heading: "First tick (pixel)", Kind: Number, Unit: "{pixel}", Width: 8, Place: Aside, Places: 1, Meaning: "Row of the first tick, in continuous image coordinates."},
			cell: found(func(r *analyse.Ruler) float64 { return r.First })},
		{Column: Column{Name: "y_last", Heading: "Last tick (pixel)", Kind: Number, Unit: "{pixel}", Width: 8, Place: Aside, Places: 1, Meaning: "Row of the last tick."},
			cell: found(func(r *analyse.Ruler) float64 { return r.Last })},
		{Column: Column{Name: "note", Heading: "Note", Kind: Text, Width: 56, Wrap: true, Place: Front, Rule: deid.Message,
			Meaning: "Why there is no scale; where there is one, what tells the size of a step."},
			cell: func(r imageRow) Cell { return text(joined(image(r).Ruler.Note, image(r).Ruler.StepWhy)) }},
	}
}

func expanded(u ingest.Optional[float64]) Cell {
	if !u.Set {
		return Cell{}
	}
	return number(coverage * u.Value)
}

func perCM(r *analyse.Ruler, uncertainty bool) Cell {
	value, u, ok := r.PerCM()
	switch {
	case !ok:
		return Cell{}
	case uncertainty:
		return number(coverage * u)
	}
	return number(value)
}

func step(r *analyse.Ruler) Cell {
	if r.Status != ruler.Read {
		return Cell{}
	}
	return number(r.StepMM)
}
