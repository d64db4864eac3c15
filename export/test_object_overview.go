package export

import (
	"fmt"
	"strings"

	"leadline/analyse"
	"leadline/ingest"
)

// testObject is what the scans of a test object say of each device; no section where
// none was named.
func (w *writer) testObject(o *analyse.TestObject) []Section {
	if o == nil {
		return nil
	}
	s := Section{
		Title: "Test object: " + clean(o.Title),
		Paragraphs: []string{
			fmt.Sprintf("%s; they count for devices, and not for patients. Speed of sound: %s.", counted(o.Scans, "scan of it was read", "scans of it were read"), clean(o.Material)),
			"The verdict is that of the newest test of each target, and no acceptance test: a physicist decides. Signals of control charts after their baseline are named beside it; a steady device gives some by chance: about one in 370 points of each chart, and one in 20 to 30 where limits were made from eight tests (by simulation).",
		},
		Columns: headings("Verdict", "Tests", "Device and what stands out"),
	}
	if o.Unassigned > 0 {
		s.Paragraphs = append(s.Paragraphs, counted(o.Unassigned, "length measured in these scans belongs to no target of the file, and was not used.", "lengths measured in these scans belong to no target of the file, and were not used."))
	}
	if o.LikePatients > 0 {
		s.Paragraphs = append(s.Paragraphs, analyse.CountedOf(o.LikePatients, "these scans", "has a birth date or a weight in its header", "have a birth date or a weight in their header")+", as studies of patients have: see that the file of the test object does not name too many.")
	}
	for _, v := range testOrder {
		for i := range o.Devices {
			d := &o.Devices[i]
			if d.Verdict != v {
				continue
			}
			said := filled(strings.TrimSpace(w.device(d.Device)+" "+d.Device.Transducer), standsOut(d))
			s.Lines = append(s.Lines, line(text(Words(string(v))), count(d.Tests), text(strings.Join(said, ": "))).marked(levels[string(v)]).to("targets", 0))
		}
	}
	return []Section{s}
}

// testOrder is the order of devices for a reader: what a test says before what none does.
var testOrder = []analyse.TestVerdict{analyse.TestFail, analyse.TestUndecided, analyse.TestPass, analyse.TestNotMeasured, analyse.TestNever}

func standsOut(d *analyse.DeviceTest) string {
	if d.Tests == 0 {
		return strings.Join(filled("pictures in the archive, and no scan of the test object", d.Note), "; ")
	}
	var said []string
	if len(d.Failing) > 0 {
		said = append(said, "failing: "+strings.Join(d.Failing, listSeparator))
	}
	if len(d.Signalled) > 0 {
		said = append(said, "charts signal: "+strings.Join(d.Signalled, listSeparator))
	}
	if d.Overdue == ingest.Some(true) {
		said = append(said, "next test overdue")
	}
	return strings.Join(append(said, filled(d.Note)...), "; ")
}

// filled are the texts that are not empty.
func filled(texts ...string) []string {
	var out []string
	for _, t := range texts {
		if t != "" {
			out = append(out, t)
		}
	}
	return out
}
