package export

import (
	"leadline/analyse"
	"leadline/export/deid"
	"leadline/ingest"
)

func (w *writer) scaleTable(devices []analyse.DeviceResult) Table {
	type row = ofDevice[analyse.Scale]
	value := func(name, heading, unit string, places int, meaning string, of func(*analyse.Scale) ingest.Optional[float64]) column[row] {
		return column[row]{Column: Column{Name: name, Heading: heading, Kind: Number, Unit: unit, Width: 9, Places: places, Meaning: meaning},
			cell: func(r row) Cell { return optional(of(r.item)) }}
	}
	d := definition[row]{
		name: "scales", title: "Depth and time",
		about:   "One row for each transducer of each device: its scale over depth and time, and beside the other devices of its model.",
		subject: nobody[analyse.Scale],
		columns: []column[row]{
			deviceColumn(w, thatDevice[analyse.Scale]),
			{Column: Column{Name: "transducer", Heading: "Transducer", Kind: Text, Width: 12, Rule: deid.Code, Meaning: "Transducer Data (0018,5010)."},
				cell: func(r row) Cell { return text(r.item.Transducer) }},
			{Column: Column{Name: "images", Heading: "Images", Kind: Integer, Width: 8, Meaning: "Pictures with a scale, without those of routes that contradict it."},
				cell: func(r row) Cell { return count(r.item.Compared) }},
			{Column: Column{Name: "depths", Heading: "Depths", Kind: Integer, Width: 8, Meaning: "Different stated depths."},
				cell: func(r row) Cell { return count(r.item.Depths) }},
			value("depth_low_mm", "From (mm)", "mm", 0, "The least stated depth.", func(s *analyse.Scale) ingest.Optional[float64] { return s.DepthLow }),
			value("depth_high_mm", "To (mm)", "mm", 0, "The greatest stated depth.", func(s *analyse.Scale) ingest.Optional[float64] { return s.DepthHigh }),
			value("slope", "Slope", "1", 4, "Slope of the depth shown (region height × mm per pixel) over the depth stated, by least squares: 1, and a little more where regions have a margin around the picture.", func(s *analyse.Scale) ingest.Optional[float64] { return s.Slope }),
			value("slope_low", "95 % from", "1", 4, "Lower end of its 95 % confidence interval.", func(s *analyse.Scale) ingest.Optional[float64] { return s.SlopeLow }),
			value("slope_high", "95 % to", "1", 4, "Upper end of its 95 % confidence interval.", func(s *analyse.Scale) ingest.Optional[float64] { return s.SlopeHigh }),
			value("intercept_mm", "Intercept (mm)", "mm", 2, "Depth shown at a stated depth of 0: should be near 0.", func(s *analyse.Scale) ingest.Optional[float64] { return s.InterceptMM }),
			value("residual_mm", "Residual SD (mm)", "mm", 3, "Standard deviation of the depth shown about the line.", func(s *analyse.Scale) ingest.Optional[float64] { return s.ResidualMM }),
			{Column: Column{Name: "change", Heading: "Change over time", Kind: Text, Width: 12, Signal: ByWord, Meaning: "none, step, drift, exchange (with another device) or not judged: what became of the scale of the same settings."},
				cell: func(r row) Cell { return text(string(r.item.Change)) }},
			value("change_percent", "Change (%)", "%", 2, "How much larger mm per pixel became.", func(s *analyse.Scale) ingest.Optional[float64] { return s.ChangePercent }),
			periodColumn[row]("since", "Since", "First day after a step.", func(r row) ingest.Stamp { return r.item.Since }),
			{Column: Column{Name: "software_before", Heading: "Software before", Kind: Text, Width: 10, Meaning: "Software of the last picture before a step."},
				cell: func(r row) Cell { return text(r.item.SoftwareBefore) }},
			{Column: Column{Name: "software_after", Heading: "Software after", Kind: Text, Width: 10, Meaning: "Software of the first picture after it."},
				cell: func(r row) Cell { return text(r.item.SoftwareAfter) }},
			{Column: Column{Name: "model_devices", Heading: "Devices of the model", Kind: Integer, Width: 9, Meaning: "Devices of the same model and transducer with the same settings, this one included; absent where there is no other."},
				cell: func(r row) Cell {
					if r.item.ModelDevices == 0 {
						return Cell{}
					}
					return count(r.item.ModelDevices)
				}},
			value("off_model_percent", "Off the model (%)", "%", 2, "How far its mm per pixel, without its own change over time, is from the median of these devices.", func(s *analyse.Scale) ingest.Optional[float64] { return s.OffModelPercent }),
		},
	}
	n, rows := devicesOf(devices, func(d *analyse.DeviceResult) []analyse.Scale { return d.Scales })
	return d.table(w.rules, n, rows)
}
