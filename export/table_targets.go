package export

import (
	"leadline/analyse"
	"leadline/export/deid"
	"leadline/ingest"
)

type targetRow = *analyse.TargetResult

// targets is the table of what was measured on a test object; without one it has no
// rows.
func (w *writer) targets(o *analyse.TestObject) Table {
	d := definition[targetRow]{
		name: "targets", title: "Test object",
		about:   "One row for each device, target of the test object, and scope: the newest test, or all tests; one for each device that was never tested.",
		subject: func(targetRow) *deid.Subject { return nil },
		columns: append(w.targetNames(), append(targetVerdict(), targetFigures()...)...),
	}
	var rows []analyse.TargetResult
	if o != nil {
		rows = o.Targets
	}
	return d.table(w.rules, len(rows), pointers(rows))
}

func (w *writer) targetNames() []column[targetRow] {
	return []column[targetRow]{
		{Column: Column{Name: "device", Heading: "Device", Kind: Text, Width: 36, Wrap: true, Place: Front, Rule: deid.Device,
			Meaning: "Maker, model and serial number."},
			cell: func(r targetRow) Cell { return text(w.device(r.Device)) }, ruleOf: settled[targetRow]},
		{Column: Column{Name: "transducer", Heading: "Transducer", Kind: Text, Width: 12, Rule: deid.Code, Wrap: true, Place: Front, Meaning: "Its transducer as the files name it; each is judged on its own."},
			cell: func(r targetRow) Cell { return text(r.Device.Transducer) }},
		{Column: Column{Name: "target", Heading: "Target id", Kind: Text, Width: 16, Place: Aside, Meaning: "The target by its id in the file of the test object; absent where the device was never tested."},
			cell: func(r targetRow) Cell { return text(r.Target) }},
		{Column: Column{Heading: "Target", Kind: Text, Width: 24, Wrap: true, Place: Front},
			cell: func(r targetRow) Cell { return text(r.Title) }},
		{Column: Column{Name: "direction", Heading: "Direction", Kind: Text, Width: 11, Place: Front, Meaning: "axial (along the beam) or lateral (across it)."},
			cell: func(r targetRow) Cell { return text(r.Direction) }},
		{Column: Column{Name: "scope", Heading: "Tests", Kind: Text, Width: 7, Place: Front, Meaning: "latest (the newest test alone) or all."},
			cell: func(r targetRow) Cell { return text(string(r.Scope)) }},
	}
}

func targetVerdict() []column[targetRow] {
	return []column[targetRow]{
		{Column: Column{Name: "verdict", Heading: "Verdict", Kind: Text, Wording: InWords, Width: 14, Place: Front, Signal: ByWord,
			Meaning: "pass (|error| + U ≤ tolerance), fail (|error| − U > tolerance), cannot-be-told (the tolerance lies within U of the error), not-measured (scanned, and no length of the target), never-tested. Common practice, no source."},
			cell: func(r targetRow) Cell { return text(string(r.Verdict)) }},
		{Column: Column{Name: "error_mm", Heading: "Error (mm)", Kind: Number, Unit: "mm", Width: 8, Places: targetPlaces, Place: Front,
			Meaning: "corrected_mm less true_mm; of all tests the bias, each test counting once."},
			cell: func(r targetRow) Cell { return optional(r.Error) }},
		{Column: Column{Name: "uncertainty_mm", Heading: "U (mm)", Kind: Number, Unit: "mm", Width: 8, Places: targetPlaces, Place: Front,
			Meaning: "Expanded uncertainty of error_mm for 95 % (JCGM 100 G.4): spread of the tests, true distance, speed of sound."},
			cell: func(r targetRow) Cell { return optional(r.U) }},
		{Column: Column{Name: "tolerance_mm", Heading: "Tolerance (mm)", Kind: Number, Unit: "mm", Width: 10, Places: targetPlaces, Place: Front,
			Meaning: "What the error may be: the larger of the millimetres and the per cent of the true distance."},
			cell: func(r targetRow) Cell { return optional(r.ToleranceMM) }},
		{Column: Column{Name: "low_mm", Heading: "95 % from (mm)", Kind: Number, Unit: "mm", Width: 9, Places: targetPlaces, Place: Front,
			Meaning: "Lower end of the 95 % interval of the bias from the spread of the tests alone (Student's t); absent for one test."},
			cell: func(r targetRow) Cell { return optional(r.Low) }},
		{Column: Column{Name: "high_mm", Heading: "95 % to (mm)", Kind: Number, Unit: "mm", Width: 9, Places: targetPlaces, Place: Front, Meaning: "Upper end of that interval."},
			cell: func(r targetRow) Cell { return optional(r.High) }},
	}
}

// targetPlaces are the digits shown after the point: a hundredth of a millimetre is
// less than any pixel.
const targetPlaces = 2

func millimetres(name, heading, meaning string, of func(targetRow) ingest.Optional[float64]) column[targetRow] {
	return column[targetRow]{
		Column: Column{Name: name, Heading: heading + " (mm)", Kind: Number, Unit: "mm", Width: 10, Places: targetPlaces, Place: Aside, Meaning: meaning},
		cell:   func(r targetRow) Cell { return optional(of(r)) },
	}
}

func targetFigures() []column[targetRow] {
	return []column[targetRow]{
		{Column: Column{Name: "tests", Heading: "Number of tests", Kind: Integer, Width: 8, Place: Front, Meaning: "Studies with a length of the target."},
			cell: func(r targetRow) Cell { return count(r.Tests) }},
		{Column: Column{Name: "values", Heading: "Values", Kind: Integer, Width: 7, Place: Aside, Meaning: "Lengths measured in them."},
			cell: func(r targetRow) Cell { return count(r.Values) }},
		{Column: Column{Name: "first", Heading: "First test", Kind: Date, Width: 11, Place: Aside, Rule: deid.Period, Meaning: "Day of the first test."},
			cell: func(r targetRow) Cell { return date(r.First) }},
		{Column: Column{Name: "last", Heading: "Last test", Kind: Date, Width: 11, Place: Front, Rule: deid.Period, Meaning: "Day of the newest test."},
			cell: func(r targetRow) Cell { return date(r.Last) }},
		{Column: Column{Name: "next_due", Heading: "Next test due", Kind: Date, Width: 12, Place: Front, Rule: deid.Period, Meaning: "Last test of the device and the interval of the file; absent where it gives none."},
			cell: func(r targetRow) Cell { return date(r.NextDue) }},
		{Column: Column{Name: "overdue", Heading: "Overdue", Kind: Flag, Width: 9, Place: Front, Meaning: "Whether next_due lies before the newest study of the archive."},
			cell: func(r targetRow) Cell { return optionalFlag(r.Overdue) }},
		millimetres("true_mm", "True", "The true distance.", func(r targetRow) ingest.Optional[float64] { return r.TrueMM }),
		millimetres("true_uncertainty_mm", "U of true", "Expanded uncertainty of it as the file gives it, 0 where it gives none.", func(r targetRow) ingest.Optional[float64] { return r.TrueU }),
		millimetres("measured_mm", "Measured", "Mean as the scanner has it: rebuilt from calipers, else as reported.", func(r targetRow) ingest.Optional[float64] { return r.MeasuredMM }),
		{Column: Column{Name: "speed_m_s", Heading: "Speed of sound (m/s)", Kind: Number, Unit: "m/s", Width: 10, Place: Aside, Places: 1, Meaning: "Speed of sound of the material in the newest test, for its temperature."},
			cell: func(r targetRow) Cell { return optional(r.SpeedMS) }},
		millimetres("corrected_mm", "Corrected", "measured_mm for the speed of sound of the material: along the beam × speed of the material ÷ speed that the scanner reckons with; across it unchanged.", func(r targetRow) ingest.Optional[float64] { return r.CorrectedMM }),
		millimetres("within_sd_mm", "SD within tests", "Repeatability: standard deviation of repeats within a test, over all tests; absent without repeats.", func(r targetRow) ingest.Optional[float64] { return r.WithinSD }),
		millimetres("within_low_mm", "SD 95 % from", "Lower end of its 95 % interval (χ²).", func(r targetRow) ingest.Optional[float64] { return r.WithinLow }),
		millimetres("within_high_mm", "SD 95 % to", "Upper end of its 95 % interval.", func(r targetRow) ingest.Optional[float64] { return r.WithinHigh }),
		millimetres("between_sd_mm", "SD between tests", "Standard deviation of the errors of the tests; absent for one test.", func(r targetRow) ingest.Optional[float64] { return r.BetweenSD }),
		{Column: Column{Name: "tolerance_source", Heading: "Source of the tolerance", Kind: Text, Width: 60, Place: Aside, Meaning: "Where the tolerance comes from."},
			cell: func(r targetRow) Cell { return text(r.ToleranceSource) }},
		{Column: Column{Name: "note", Heading: "Note", Kind: Text, Width: 44, Wrap: true, Place: Front, Meaning: "What else is to be known."},
			cell: func(r targetRow) Cell { return text(r.Note) }},
	}
}
