package export

import (
	"slices"
	"strings"
	"time"

	"leadline/analyse"
	"leadline/export/deid"
	"leadline/ingest"
)

// verdictWords are the verdicts on devices, for the codebook.
const verdictWords = "contradicts-itself (one setting has two scales, or a scale is not that of its picture, and no header explains it), look-at (something differs that may have a good reason), cannot-be-told (too little to compare, or no serial number), steady (what can be compared agrees; this does not prove the scale right)"

func (w *writer) deviceTable(devices []analyse.DeviceResult, o *analyse.TestObject) Table {
	type row = *analyse.DeviceResult
	tested, testedPlace := testedDevices(o), Front
	if o == nil {
		testedPlace = Aside // an empty column takes the room of a signature
	}
	d := definition[row]{
		name: "devices", title: "Devices",
		about:   "One row for each device that made an ultrasound picture: verdict, evidence, and room to sign for it.",
		subject: func(row) *deid.Subject { return nil },
		columns: []column[row]{
			deviceColumn(w, func(r row) *ingest.Device { return r.Device }),
			{Column: Column{Name: "verdict", Heading: "Verdict", Kind: Text, Wording: InWords, Width: 17, Place: Front, Signal: ByWord,
				Meaning: "What its own pictures say of its scale: " + verdictWords + "."},
				cell: func(r row) Cell { return text(string(r.Verdict)) }},
			{Column: Column{Name: "evidence", Heading: "Evidence", Kind: Text, Width: 58, Wrap: true, Place: Front, Rule: deid.Message,
				Meaning: "Why, the gravest first, separated by \" | \"."},
				cell: func(r row) Cell { return text(w.evidence(r.Remarks)) }, ruleOf: settled[row]},
			{Column: Column{Name: "look_at", Heading: "Files to look at", Kind: Integer, Width: 9, Place: Front, Signal: CautionIfAny,
				Meaning: "Its rows in look-at."},
				cell: func(r row) Cell { return count(len(r.LookAt)) }},
			{Column: Column{Name: "images", Heading: "Images", Kind: Integer, Width: 8, Place: Front, Meaning: "Its pictures: stills and clips."},
				cell: func(r row) Cell { return count(r.Images) }},
			{Column: Column{Name: "calibrated", Heading: "Calibrated", Kind: Integer, Width: 10, Place: Aside, Meaning: "Those of images with a calibrated region or Pixel Spacing."},
				cell: func(r row) Cell { return count(r.Calibrated) }},
			{Column: Column{Name: "compared", Heading: "Compared", Kind: Integer, Width: 10, Place: Aside, Meaning: "Those of images whose scale was held against that of others of the same setting."},
				cell: func(r row) Cell { return count(r.Compared) }},
			{Column: Column{Name: "studies", Heading: "Studies", Kind: Integer, Width: 8, Place: Aside, Meaning: "Studies with a picture of it."},
				cell: func(r row) Cell { return count(r.Studies) }},
			periodColumn[row]("first", "First picture", "Day of its first picture.", func(r row) ingest.Stamp { return r.First }),
			periodColumn[row]("last", "Last picture", "Day of its last picture.", func(r row) ingest.Stamp { return r.Last }),
			{Column: Column{Name: "software", Heading: "Software", Kind: Text, Width: 14, Wrap: true,
				Meaning: "Software versions met, in the order of their first picture."},
				cell: func(r row) Cell { return text(strings.Join(r.Software, listSeparator)) }},
			{Column: Column{Name: "transducers", Heading: "Transducers", Kind: Text, Width: 13, Wrap: true, Rule: deid.Code,
				Meaning: "Transducers as the files name them, in the order of their first picture."},
				cell: func(r row) Cell { return text(strings.Join(r.Transducers, listSeparator)) }},
			{Column: Column{Name: "errors", Heading: "Errors", Kind: Integer, Width: 8, Place: Aside, Signal: AlarmIfAny, Meaning: "Findings of severity error about single files of it."},
				cell: func(r row) Cell { return count(r.Errors) }},
			{Column: Column{Name: "warnings", Heading: "Warnings", Kind: Integer, Width: 9, Place: Aside, Signal: CautionIfAny, Meaning: "Findings of severity warning about single files of it."},
				cell: func(r row) Cell { return count(r.Warnings) }},
			{Column: Column{Name: "test_object", Heading: "Test object", Kind: Text, Wording: InWords, Width: 13, Place: testedPlace, Signal: ByWord,
				Meaning: "With --phantom: the worst verdict of the newest tests of its transducers, as in targets. The verdict beside it is of the headers alone, and does not know it."},
				cell: func(r row) Cell { return text(string(tested[analyse.DeviceName(r.Device)])) }},
			forThePen[row]("Checked by", 20), forThePen[row]("On", 12), forThePen[row]("Signature", 26),
		},
	}
	return d.table(w.rules, len(devices), pointers(devices))
}

// testedDevices are the verdicts of the test object by the name of the device, the
// worst of its transducers.
func testedDevices(o *analyse.TestObject) map[string]analyse.TestVerdict {
	verdicts := map[string]analyse.TestVerdict{}
	if o == nil {
		return verdicts
	}
	for _, v := range slices.Backward(analyse.TestVerdicts) {
		for i := range o.Devices {
			if o.Devices[i].Verdict == v {
				verdicts[analyse.DeviceName(o.Devices[i].Device)] = v
			}
		}
	}
	return verdicts
}

// forThePen is a column of the sheet that stays empty, for a person to write in.
func forThePen[R any](heading string, width float64) column[R] {
	return column[R]{Column: Column{Heading: heading, Kind: Text, Width: width, Pen: true}, cell: func(R) Cell { return Cell{} }}
}

func deviceColumn[R any](w *writer, of func(R) *ingest.Device) column[R] {
	return column[R]{Column: Column{Name: "device", Heading: "Device", Kind: Text, Width: 38, Wrap: true, Place: Front, Rule: deid.Device,
		Meaning: "Maker, model and serial number."},
		cell: func(r R) Cell { return text(w.namedDevice(of(r))) }, ruleOf: settled[R]}
}

// namedDevice names a device also where its files do not.
func (w *writer) namedDevice(d *ingest.Device) string {
	if name := w.device(d); name != "" {
		return name
	}
	return "(no maker, model or serial number)"
}

// periodColumn is a day that is about pictures of many patients.
func periodColumn[R any](name, heading, meaning string, of func(R) ingest.Stamp) column[R] {
	return column[R]{Column: Column{Name: name, Heading: heading, Kind: Date, Width: 11, Rule: deid.Period, Meaning: meaning},
		cell: func(r R) Cell { return date(of(r)) }}
}

// evidence writes remarks with the days and devices they are about, as the rules allow.
func (w *writer) evidence(remarks []analyse.Remark) string {
	parts := make([]string, len(remarks))
	for i, r := range remarks {
		var about []string
		if r.Other != nil {
			about = append(about, "the other device: "+w.namedDevice(r.Other))
		}
		if day := w.rules.Time(deid.Period, nil, r.Since.T); !r.Since.IsZero() && !day.IsZero() {
			about = append(about, "since "+day.Format(time.DateOnly))
		}
		if parts[i] = r.Text; len(about) > 0 {
			parts[i] += " (" + strings.Join(about, listSeparator) + ")"
		}
	}
	return strings.Join(parts, comparedSeparator)
}

// ofDevice is one thing of a device, and the device.
type ofDevice[T any] struct {
	device *analyse.DeviceResult
	item   *T
}

// devicesOf walks one list of every device, and counts it.
func devicesOf[T any](devices []analyse.DeviceResult, list func(*analyse.DeviceResult) []T) (int, func(func(ofDevice[T]) bool)) {
	n := 0
	for i := range devices {
		n += len(list(&devices[i]))
	}
	return n, func(yield func(ofDevice[T]) bool) {
		for i := range devices {
			items := list(&devices[i])
			for k := range items {
				if !yield(ofDevice[T]{&devices[i], &items[k]}) {
					return
				}
			}
		}
	}
}

func thatDevice[T any](r ofDevice[T]) *ingest.Device { return r.device.Device }

func nobody[T any](ofDevice[T]) *deid.Subject { return nil }
