package export

import (
	"strings"

	"leadline/analyse"
	"leadline/export/deid"
)

func (w *writer) deviceTable(devices []analyse.DeviceResult) Table {
	type row = *analyse.DeviceResult
	d := definition[row]{
		name: "devices", title: "Devices",
		about:   "One row for each device that made a picture.",
		subject: func(row) *deid.Subject { return nil },
		columns: []column[row]{
			{Column: Column{Name: "device", Heading: "Device", Kind: Text, Width: 36, Wrap: true, Place: Front, Rule: deid.Device,
				Meaning: "Maker, model and serial number."},
				cell: func(r row) Cell { return text(w.device(r.Device)) }, ruleOf: settled[row]},
			{Column: Column{Name: "software", Heading: "Software", Kind: Text, Width: 18, Wrap: true, Place: Front,
				Meaning: "Software versions met, in the order of their first picture."},
				cell: func(r row) Cell { return text(strings.Join(r.Software, listSeparator)) }},
			{Column: Column{Name: "transducers", Heading: "Transducers", Kind: Text, Width: 16, Wrap: true, Place: Front,
				Meaning: "Transducers as the files name them, in the order of their first picture."},
				cell: func(r row) Cell { return text(strings.Join(r.Transducers, listSeparator)) }},
			{Column: Column{Name: "images", Heading: "Images", Kind: Integer, Width: 8, Place: Front, Meaning: "Its pictures: stills and clips."},
				cell: func(r row) Cell { return count(r.Images) }},
			{Column: Column{Name: "calibrated", Heading: "Calibrated", Kind: Integer, Width: 10, Meaning: "Those of images with a calibrated region or Pixel Spacing."},
				cell: func(r row) Cell { return count(r.Calibrated) }},
			{Column: Column{Name: "studies", Heading: "Studies", Kind: Integer, Width: 8, Meaning: "Studies with a picture of it."},
				cell: func(r row) Cell { return count(r.Studies) }},
			{Column: Column{Name: "first", Heading: "First picture", Kind: Date, Width: 11, Place: Front, Rule: deid.Period, Meaning: "Day of its first picture."},
				cell: func(r row) Cell { return date(r.First) }},
			{Column: Column{Name: "last", Heading: "Last picture", Kind: Date, Width: 11, Place: Front, Rule: deid.Period, Meaning: "Day of its last picture."},
				cell: func(r row) Cell { return date(r.Last) }},
		},
	}
	return d.table(w.rules, len(devices), pointers(devices))
}
