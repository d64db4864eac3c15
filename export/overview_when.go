package export

import (
	"fmt"

	"leadline/analyse/overview"
)

// when says when studies were made and how soon they were documented.
func when(t overview.Times) Section {
	s := Section{Title: "When studies were made and documented", Columns: headings("Studies", "Number", "What it means")}
	if t.Timed == 0 {
		return Section{Title: s.Title, Paragraphs: []string{"No image says when it was taken."}}
	}
	of := fmt.Sprintf("of %s that tell the hour, by the device's clock", counted(t.Timed, "study", "studies"))
	s.Lines = []Line{
		line(text("At night"), count(t.Night), text(of+"; night is "+nightHours+" (units differ)")).to("timing", 0),
		line(text("At the weekend"), count(t.Weekend), text(of)).to("timing", 0),
	}
	for _, m := range []struct {
		what, unit string
		middle     overview.Middle
		per        float64
		places     int
	}{
		{"Duration, median", "minutes from the first to the last image", t.DurationS, 60, 1},
		{"Report, median", "hours from the last image to the first report", t.ReportH, 1, 1},
		{"Verification, median", "hours from the last image to the first verification", t.VerifiedH, 1, 1},
	} {
		if v, known := m.middle.Value.Get(); known {
			s.Lines = append(s.Lines, line(text(m.what), rounded(v/m.per, m.places), text(fmt.Sprintf("%s, of %s", m.unit, counted(m.middle.Studies, "study", "studies")))).to("timing", 0))
		}
	}
	s.Lines = append(s.Lines, line(text("Clocks to look at"), count(t.ToLook), text(fmt.Sprintf("of %s; no other stamp in a header is sure to be of another clock", counted(t.Devices, "device", "devices")))).
		marked(Plain, cautionIf(t.ToLook)).to("clocks", 0))
	return s
}
