package export

import (
	"leadline/analyse"
	"leadline/export/deid"
)

// clockRow is one fact with the device it is of.
type clockRow struct {
	device *analyse.DeviceClock
	fact   *analyse.ClockFact
}

func (w *writer) clocks() Table {
	study := func(uid func(clockRow) string) func(clockRow) *studyRow {
		return func(r clockRow) *studyRow { return w.byUID[uid(r)] }
	}
	from := study(func(r clockRow) string { return r.fact.From })
	to := study(func(r clockRow) string { return r.fact.To })
	numbered := func(heading string, of func(clockRow) *studyRow) column[clockRow] {
		c := studyNumber(of)
		c.Heading, c.Width = heading, 9
		return c
	}
	d := definition[clockRow]{
		name: "clocks", title: "Clocks",
		about:   "One row for each question asked of the clocks of a device: that of the frames of its clips, and that of the day.",
		subject: func(clockRow) *deid.Subject { return nil },
		columns: []column[clockRow]{
			{Column: Column{Name: "device", Heading: "Device", Kind: Text, Width: 36, Wrap: true, Place: Front, Rule: deid.Device, Meaning: "Maker, model and serial number."},
				cell: func(r clockRow) Cell { return text(w.device(r.device.Device)) }, ruleOf: settled[clockRow]},
			{Column: Column{Name: "studies", Heading: "Studies", Kind: Integer, Width: 8, Place: Aside, Meaning: "Studies it made images of."},
				cell: func(r clockRow) Cell { return count(r.device.Studies) }},
			{Column: Column{Name: "images", Heading: "Images", Kind: Integer, Width: 8, Place: Aside, Meaning: "Images it made."},
				cell: func(r clockRow) Cell { return count(r.device.Images) }},
			{Column: Column{Name: "clips", Heading: "Clips", Kind: Integer, Width: 7, Place: Aside, Meaning: "Clips among them."},
				cell: func(r clockRow) Cell { return count(r.device.Clips) }},
			{Column: Column{Name: "aspect", Heading: "Question", Kind: Text, Wording: InWords, Width: 22, Place: Front,
				Meaning: "frame-intervals (are they even, by Frame Time Vector; value is the widest deviation), frame-time-rounding (was Frame Time rounded; value is what it adds to a heart rate of 140 per minute), image-order (value counts the studies in which times go back), zone (value is the zone stated), archive-offset (another stamp less the device's, median over studies; above 0 the device is behind), archive-drift (its slope, Theil and Sen), hour-step (a jump of it by an hour, as daylight saving makes)."},
				cell: func(r clockRow) Cell { return text(string(r.fact.Aspect)) }},
			{Column: Column{Name: "against", Heading: "Against", Kind: Text, Width: 9, Place: Front,
				Meaning: "What the clock was held against: file (Instance Creation Date and Time of the same file), study (Study Date and Time less the first image), report (Content Date and Time of another device's report less the last image). No header says whose clock wrote a stamp."},
				cell: func(r clockRow) Cell { return text(r.fact.Against) }},
			{Column: Column{Name: "verdict", Heading: "Verdict", Kind: Text, Wording: InWords, Width: 16, Place: Front, Signal: ByWord, Meaning: "steady (nothing to see), look (a person should), not-determinable (the headers cannot tell)."},
				cell: func(r clockRow) Cell { return text(string(r.fact.Verdict)) }},
			{Column: Column{Name: "value", Heading: "Value", Kind: Number, Width: 10, Places: 1, Place: Front, Meaning: "The answer in unit; absent where it is not determinable."},
				cell: func(r clockRow) Cell { return optional(r.fact.Value) }},
			{Column: Column{Name: "unit", Heading: "Unit", Kind: Text, Wording: UnitSigns, Width: 7, Place: Front, Meaning: "UCUM code of value and spread."},
				cell: func(r clockRow) Cell { return text(r.fact.Unit) }},
			{Column: Column{Name: "spread", Heading: "Spread", Kind: Number, Width: 9, Places: 1, Place: Front, Meaning: "Robust spread of what value was made from: scaled median absolute deviation."},
				cell: func(r clockRow) Cell { return optional(r.fact.Spread) }},
			{Column: Column{Name: "n", Heading: "n", Kind: Integer, Width: 6, Place: Front, Meaning: "What it was made from: clips, images or studies."},
				cell: func(r clockRow) Cell { return count(r.fact.N) }},
			{Column: Column{Name: "evidence", Heading: "Evidence", Kind: Text, Width: 74, Wrap: true, Place: Front, Meaning: "The answer in words."},
				cell: func(r clockRow) Cell { return text(r.fact.Evidence) }},
			numbered("Step after study", from),
			numbered("Step before study", to),
			{Column: Column{Name: "from_study_uid", Heading: "Step after", Kind: Text, Width: 18, Place: Back, Rule: deid.UID, Meaning: "The study before a jump."},
				cell: func(r clockRow) Cell { return text(r.fact.From) }},
			{Column: Column{Name: "to_study_uid", Heading: "Step before", Kind: Text, Width: 18, Place: Back, Rule: deid.UID, Meaning: "The study after it."},
				cell: func(r clockRow) Cell { return text(r.fact.To) }},
		},
	}
	n := 0
	for i := range w.result.Clocks {
		n += len(w.result.Clocks[i].Facts)
	}
	return d.table(w.rules, n, func(yield func(clockRow) bool) {
		for i := range w.result.Clocks {
			c := &w.result.Clocks[i]
			for j := range c.Facts {
				if !yield(clockRow{c, &c.Facts[j]}) {
					return
				}
			}
		}
	})
}
