package export

import (
	"leadline/analyse"
	"leadline/export/deid"
)

func (w *writer) settingTable(devices []analyse.DeviceResult) Table {
	type row = ofDevice[analyse.Setting]
	whole := func(name, heading, meaning string, of func(*analyse.Setting) int) column[row] {
		return column[row]{Column: Column{Name: name, Heading: heading, Kind: Integer, Unit: "{pixel}", Width: 9, Meaning: meaning},
			cell: func(r row) Cell { return count(of(r.item)) }}
	}
	scale := func(name, heading, meaning string, of func(*analyse.Setting) float64) column[row] {
		return column[row]{Column: Column{Name: name, Heading: heading, Kind: Number, Unit: "mm", Width: 10, Places: 5, Meaning: meaning},
			cell: func(r row) Cell { return number(of(r.item)) }}
	}
	d := definition[row]{
		name: "settings", title: "Settings",
		about:   "One row for each setting of each device: what must have one scale.",
		subject: nobody[analyse.Setting],
		columns: []column[row]{
			deviceColumn(w, thatDevice[analyse.Setting]),
			{Column: Column{Name: "transducer", Heading: "Transducer", Kind: Text, Width: 12, Rule: deid.Code, Meaning: "Transducer Data (0018,5010)."},
				cell: func(r row) Cell { return text(r.item.Transducer) }},
			{Column: Column{Name: "data_type", Heading: "Data type", Kind: Text, Width: 13, Meaning: "Region Data Type (0018,6014) of the tallest 2D region in words, or Pixel Spacing where no region has a scale."},
				cell: func(r row) Cell { return text(r.item.DataType) }},
			{Column: Column{Name: "depth_mm", Heading: "Depth (mm)", Kind: Number, Unit: "mm", Width: 9, Meaning: "Depth of Scan Field (0018,5050); absent where the header states none, or the picture is an enlarged part. Such rows are listed and not judged."},
				cell: func(r row) Cell { return optional(r.item.DepthMM) }},
			{Column: Column{Name: "exam", Heading: "Exam", Kind: Text, Width: 18, Wrap: true, Rule: deid.Words, Meaning: "The exam as a label, else the header, names it: Protocol Name (0018,1030), else Performed Protocol Code, else Body Part Examined."},
				cell: func(r row) Cell { return text(w.wordsAbout(r.item.Exam, r.item.Images)) }, ruleOf: settled[row]},
			whole("columns", "Columns", "Width of the pictures.", func(s *analyse.Setting) int { return s.Columns }),
			whole("rows", "Rows", "Height of the pictures.", func(s *analyse.Setting) int { return s.Rows }),
			whole("region_width", "Region width", "Width of the region.", func(s *analyse.Setting) int { return s.Width }),
			whole("region_height", "Region height", "Height of the region.", func(s *analyse.Setting) int { return s.Height }),
			{Column: Column{Name: "images", Heading: "Images", Kind: Integer, Width: 8, Meaning: "Pictures of the setting, without those of routes that contradict their scale. Fewer than 5 are not judged."},
				cell: func(r row) Cell { return count(len(r.item.Images)) }},
			{Column: Column{Name: "values", Heading: "Scales", Kind: Integer, Width: 7, Meaning: "Scales that printed digits and whole pixels do not explain as one."},
				cell: func(r row) Cell { return count(r.item.Values) }},
			scale("mm_per_pixel_x", "mm per pixel x", "Median across.", func(s *analyse.Setting) float64 { return s.MMPerPixelX }),
			scale("mm_per_pixel_y", "mm per pixel y", "Median down.", func(s *analyse.Setting) float64 { return s.MMPerPixelY }),
			scale("low", "Least y", "The smallest down.", func(s *analyse.Setting) float64 { return s.Low }),
			scale("high", "Greatest y", "The greatest down.", func(s *analyse.Setting) float64 { return s.High }),
			{Column: Column{Name: "mad", Heading: "MAD y", Kind: Number, Unit: "mm", Width: 10, Places: 6, Meaning: "Median absolute deviation from the median, down."},
				cell: func(r row) Cell { return number(r.item.MAD) }},
			{Column: Column{Name: "outliers", Heading: "Outliers", Kind: Integer, Width: 9, Signal: CautionIfAny,
				Meaning: "Pictures with a modified z above 3.5 (Iglewicz and Hoaglin 1993) whose scale differs by more than digits and whole pixels explain; absent where it was not judged."},
				cell: func(r row) Cell {
					if n, ok := r.item.Outliers.Get(); ok {
						return count(n)
					}
					return Cell{}
				}},
		},
	}
	n, rows := devicesOf(devices, func(d *analyse.DeviceResult) []analyse.Setting { return d.Settings })
	return d.table(w.rules, n, rows)
}

// wordsAbout is a text that pictures of several patients share, withheld where it names
// one of them.
func (w *writer) wordsAbout(words string, images []*analyse.Image) string {
	for _, img := range images {
		if shown := w.rules.Text(deid.Words, w.aboutUID(img.Study.UID), words); shown != words {
			return shown
		}
	}
	return words
}
