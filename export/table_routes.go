package export

import (
	"leadline/analyse"
	"leadline/export/deid"
	"leadline/ingest"
)

func (w *writer) routeTable(devices []analyse.DeviceResult) Table {
	type row = ofDevice[analyse.Route]
	of := func(r row) *ingest.Writer {
		if r.item.Writer == nil {
			return &ingest.Writer{}
		}
		return r.item.Writer
	}
	d := definition[row]{
		name: "routes", title: "Routes",
		about:   "One row for each way on which pictures of a device came, as the headers tell it.",
		subject: nobody[analyse.Route],
		columns: []column[row]{
			deviceColumn(w, thatDevice[analyse.Route]),
			{Column: Column{Name: "route", Heading: "Route", Kind: Integer, Width: 7, Meaning: "Number of the route; 1 is that of most pictures which are not derived."},
				cell: func(r row) Cell { return count(r.item.Number) }},
			{Column: Column{Name: "images", Heading: "Images", Kind: Integer, Width: 8, Meaning: "Pictures that came so."},
				cell: func(r row) Cell { return count(r.item.Images) }},
			{Column: Column{Name: "columns", Heading: "Columns", Kind: Integer, Unit: "{pixel}", Width: 9, Meaning: "Width of the pictures."},
				cell: func(r row) Cell { return count(r.item.Columns) }},
			{Column: Column{Name: "rows", Heading: "Rows", Kind: Integer, Unit: "{pixel}", Width: 7, Meaning: "Height of the pictures."},
				cell: func(r row) Cell { return count(r.item.Rows) }},
			{Column: Column{Name: "size_ratio", Heading: "Size ÷ route 1", Kind: Number, Unit: "1", Width: 9, Places: 3, Meaning: "Width ÷ that of route 1, where the height gives the same to a pixel; absent elsewhere."},
				cell: func(r row) Cell { return optional(r.item.Resampled) }},
			{Column: Column{Name: "depth_ratio", Heading: "Depth ÷ route 1", Kind: Number, Unit: "1", Width: 9, Places: 3, Meaning: "Depth that the regions show ÷ that of pictures of the size of route 1 at the same stated depth (median)."},
				cell: func(r row) Cell { return optional(r.item.Ratio) }},
			{Column: Column{Name: "note", Heading: "Note", Kind: Text, Width: 44, Wrap: true, Meaning: "What the two ratios say."},
				cell: func(r row) Cell { return text(r.item.Note) }},
			{Column: Column{Name: "implementation_version", Heading: "Program", Kind: Text, Width: 18, Meaning: "Implementation Version Name (0002,0013): the program that wrote the file."},
				cell: func(r row) Cell { return text(of(r).Version) }},
			{Column: Column{Name: "source_ae", Heading: "Sent by", Kind: Text, Width: 16, Rule: deid.Code, Meaning: "Source Application Entity Title (0002,0016)."},
				cell: func(r row) Cell { return text(of(r).Source) }},
			{Column: Column{Name: "derived", Heading: "Derived", Kind: Flag, Width: 9, Meaning: "Whether Image Type says DERIVED or SECONDARY, or a Derivation Description stands in the header."},
				cell: func(r row) Cell { return flag(r.item.Derived) }},
			{Column: Column{Name: "lossy", Heading: "Lossy", Kind: Flag, Width: 8, Meaning: "Whether Lossy Image Compression (0028,2110) is 01."},
				cell: func(r row) Cell { return flag(r.item.Lossy) }},
			periodColumn[row]("first", "First picture", "Day of the first picture.", func(r row) ingest.Stamp { return r.item.First }),
			periodColumn[row]("last", "Last picture", "Day of the last picture.", func(r row) ingest.Stamp { return r.item.Last }),
			{Column: Column{Name: "transfer_syntax", Heading: "Transfer syntax", Kind: Text, Width: 22, Place: Back, Meaning: "Transfer Syntax UID (0002,0010): the encoding."},
				cell: func(r row) Cell { return text(r.item.TransferSyntaxUID) }},
			{Column: Column{Name: "implementation", Heading: "Implementation UID", Kind: Text, Width: 22, Place: Back, Rule: deid.UID, Meaning: "Implementation Class UID (0002,0012)."},
				cell: func(r row) Cell { return text(of(r).Class) }},
		},
	}
	n, rows := devicesOf(devices, func(d *analyse.DeviceResult) []analyse.Route { return d.Routes })
	return d.table(w.rules, n, rows)
}
