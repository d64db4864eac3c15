package export

import (
	"iter"
	"strings"

	"leadline/analyse"
	"leadline/export/deid"
	"leadline/ingest"
)

// regionRow is one region with its image and study.
type regionRow struct {
	study  *studyRow
	image  *analyse.Image
	region *analyse.Region
}

func (w *writer) regions() Table {
	study := func(r regionRow) *studyRow { return r.study }
	d := definition[regionRow]{
		name: "regions", title: "Regions",
		about:   "One row for each calibrated region of each image.",
		subject: func(r regionRow) *deid.Subject { return r.study.about },
		columns: append([]column[regionRow]{
			studyNumber(study),
			studyDate(study),
			studyUID(study),
			{Column: Column{Name: "sop_uid", Heading: "SOP UID", Kind: Text, Width: 18, Place: Back, Rule: deid.UID,
				Meaning: "SOP Instance UID (0008,0018) of the image."},
				cell: func(r regionRow) Cell { return text(r.image.SOPInstanceUID) }},
			{Column: Column{Heading: "Instance number", Kind: Integer, Width: 9, Place: Front},
				cell: func(r regionRow) Cell { return wholeNumber(r.image.InstanceNumber) }},
			{Column: Column{Name: "device", Heading: "Device", Kind: Text, Width: 42, Rule: deid.Device,
				Meaning: "Maker, model and serial number of the device that made the image."},
				cell: func(r regionRow) Cell { return text(w.device(r.image.Device)) }, ruleOf: settled[regionRow]},
		}, regionFacts()...),
	}
	n, rows := w.regionRows()
	return d.table(w.rules, n, rows)
}

func (w *writer) regionRows() (int, iter.Seq[regionRow]) {
	n := 0
	for _, s := range w.rows {
		for _, img := range s.Images {
			n += len(img.Regions)
		}
	}
	return n, func(yield func(regionRow) bool) {
		for _, s := range w.rows {
			for _, img := range s.Images {
				for i := range img.Regions {
					if !yield(regionRow{s, img, &img.Regions[i]}) {
						return
					}
				}
			}
		}
	}
}

func regionFacts() []column[regionRow] {
	bound := func(name, heading, meaning string, of func(*ingest.Region) ingest.Optional[ingest.Index]) column[regionRow] {
		return column[regionRow]{Column: Column{Name: name, Heading: heading, Kind: Integer, Unit: "{pixel}", Width: 7, Meaning: meaning},
			cell: func(r regionRow) Cell {
				if v, ok := of(r.region.Raw).Get(); ok {
					return integer(int64(v))
				}
				return Cell{}
			}}
	}
	return []column[regionRow]{
		{Column: Column{Name: "region", Heading: "Region", Kind: Integer, Width: 8, Place: Front, Meaning: "Ordinal of the region within its image, from 1."},
			cell: func(r regionRow) Cell { return count(r.region.Raw.Ordinal) }},
		{Column: Column{Name: "format", Heading: "Format", Kind: Text, Width: 12, Meaning: "Region Spatial Format (0018,6012) in words."},
			cell: func(r regionRow) Cell { return text(r.region.Format) }},
		{Column: Column{Name: "data_type", Heading: "Data type", Kind: Text, Width: 16, Meaning: "Region Data Type (0018,6014) in words."},
			cell: func(r regionRow) Cell { return text(r.region.DataType) }},
		bound("x0", "x0 (pixel)", "First column of the region, a pixel index from 0.", func(r *ingest.Region) ingest.Optional[ingest.Index] { return r.MinX0 }),
		bound("y0", "y0 (pixel)", "First row of the region, a pixel index from 0.", func(r *ingest.Region) ingest.Optional[ingest.Index] { return r.MinY0 }),
		bound("x1", "x1 (pixel)", "Last column of the region, a pixel index from 0.", func(r *ingest.Region) ingest.Optional[ingest.Index] { return r.MaxX1 }),
		bound("y1", "y1 (pixel)", "Last row of the region, a pixel index from 0.", func(r *ingest.Region) ingest.Optional[ingest.Index] { return r.MaxY1 }),
		{Column: Column{Name: "units_x", Heading: "Units x", Kind: Text, Width: 8, Meaning: "Physical Units X Direction (0018,6024): unit of delta_x, per pixel."},
			cell: func(r regionRow) Cell { return text(r.region.UnitsX) }},
		{Column: Column{Name: "units_y", Heading: "Units y", Kind: Text, Width: 8, Meaning: "Physical Units Y Direction (0018,6026): unit of delta_y, per pixel."},
			cell: func(r regionRow) Cell { return text(r.region.UnitsY) }},
		{Column: Column{Name: "delta_x", Heading: "Delta x (units x per pixel)", Kind: Number, Width: 12, Places: 6, Meaning: "Physical Delta X (0018,602C) as the file gives it, in units_x per pixel."},
			cell: func(r regionRow) Cell { return optional(r.region.Raw.DeltaX) }},
		{Column: Column{Name: "delta_y", Heading: "Delta y (units y per pixel)", Kind: Number, Width: 12, Places: 6, Meaning: "Physical Delta Y (0018,602E) as the file gives it, in units_y per pixel."},
			cell: func(r regionRow) Cell { return optional(r.region.Raw.DeltaY) }},
		{Column: Column{Name: "mm_per_pixel_x", Heading: "mm per pixel x", Kind: Number, Unit: "mm", Width: 9, Places: 4, Meaning: "Size of a pixel along x; absent where that axis is no length."},
			cell: func(r regionRow) Cell { return optional(r.region.MMPerPixelX) }},
		{Column: Column{Name: "mm_per_pixel_y", Heading: "mm per pixel y", Kind: Number, Unit: "mm", Width: 9, Places: 4, Meaning: "Size of a pixel along y; absent where that axis is no length."},
			cell: func(r regionRow) Cell { return optional(r.region.MMPerPixelY) }},
		{Column: Column{Name: "ruler_ratio", Heading: "Ruler ÷ header", Kind: Number, Unit: "1", Width: 9, Places: 4, Meaning: "Pixels to a centimetre of depth by the ruler in the picture ÷ by delta_y; 0.5 is a picture at half its size. Absent where pictures were not read (--pixels) or the ruler is none or not certain."},
			cell: func(r regionRow) Cell { return optional(r.region.RulerRatio) }},
		{Column: Column{Name: "note", Heading: "Note", Kind: Text, Width: 50, Wrap: true, Rule: deid.Message, Meaning: "How the calibration contradicts its image, and what else is to be known."},
			cell: func(r regionRow) Cell { return text(joined(r.region.Suspect, r.region.Note)) }},
	}
}

// joined puts the texts that are not empty into one.
func joined(texts ...string) string {
	var some []string
	for _, t := range texts {
		if t != "" {
			some = append(some, t)
		}
	}
	return strings.Join(some, listSeparator)
}
