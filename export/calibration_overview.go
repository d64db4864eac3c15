package export

import (
	"fmt"
	"slices"

	"leadline/analyse"
	"leadline/analyse/overview"
)

// calibrationOverview is what a physicist sees first.
func (w *writer) calibrationOverview(c *analyse.Calibration, o overview.Overview, version string) []Section {
	return slices.Concat(
		[]Section{w.heading("Check of ultrasound devices", version), w.calibrationGlance(c, o), w.devicesFirst(c)},
		w.testObject(c.TestObject),
		w.acousticFirst(c),
		[]Section{
			lookFirst(o),
			proved(c.TestObject != nil && c.TestObject.Scans > 0),
			filesRead(o),
			calibrationCautions(),
			{Title: "Sheets", Contents: true, Columns: headings("Sheet", "Rows", "What one row is")},
		},
	)
}

// deviceMeanings say what a verdict on a device is, for people.
var deviceMeanings = map[analyse.DeviceVerdict]string{
	analyse.DeviceContradicts: "one setting has two scales, or a scale is not that of its picture: do not measure before it is explained",
	analyse.DeviceLook:        "something differs that may have a good reason: open the files named",
	analyse.DeviceUntold:      "too little to compare, or no serial number: only a test object tells",
	analyse.DeviceSteady:      "all that can be compared agrees; it is not proved right",
}

func (w *writer) calibrationGlance(c *analyse.Calibration, o overview.Overview) Section {
	counts := map[analyse.DeviceVerdict]int{}
	for i := range c.Devices {
		counts[c.Devices[i].Verdict]++
	}
	s := Section{Title: "At a glance", Lines: []Line{
		line(text("Devices"), count(len(c.Devices)), text(fmt.Sprintf("with %s of %s", counted(o.Images, "picture", "pictures"), counted(o.Studies, "study", "studies")))).to("devices", 0),
	}}
	for _, v := range analyse.DeviceVerdicts {
		level := Plain
		if counts[v] > 0 {
			level = levels[string(v)]
		}
		s.Lines = append(s.Lines, line(text(capital(Words(string(v)))), count(counts[v]), text(deviceMeanings[v])).marked(Plain, level).to("devices", 0))
	}
	s.Lines = append(s.Lines,
		line(text("Errors"), count(o.Errors), text("files whose scale cannot be relied on")).marked(Plain, alarmIf(o.Errors)).to("findings", 0),
		line(text("Warnings"), count(o.Warnings), text("look before relying on the scale or the times they name")).marked(Plain, cautionIf(o.Warnings)).to("findings", 0),
	)
	return s
}

// devicesFirst lists the devices that are not steady, with the gravest of their
// evidence.
func (w *writer) devicesFirst(c *analyse.Calibration) Section {
	s := Section{Title: "Devices to look at", Columns: headings("Device", "Files", "Verdict and gravest evidence")}
	for _, v := range analyse.DeviceVerdicts {
		for i := range c.Devices {
			d := &c.Devices[i]
			if d.Verdict != v || v == analyse.DeviceSteady {
				continue
			}
			s.Lines = append(s.Lines, line(text(w.namedDevice(d.Device)), count(len(d.LookAt)), text(Words(string(v))+": "+w.evidence(d.Remarks[:1]))).
				marked(Plain, levels[string(v)]).to("devices", i+1))
		}
	}
	if len(s.Lines) == 0 {
		return Section{Title: s.Title, Paragraphs: []string{"None: all that can be compared in their headers agrees."}}
	}
	return s
}

// proved says what a check of headers proves and what it does not, and what a test
// object adds.
func proved(scanned bool) Section {
	begins := "No test object was scanned for this. What it shows, it shows from headers alone: that"
	if scanned {
		begins = "What the test object says stands in its own part and sheet, and goes as far as its targets: the device with that transducer, on the days of its tests. Everything else is shown from headers alone: that"
	}
	return Section{Title: "What this proves, and what it does not", Paragraphs: []string{
		begins + " pictures of one device and one setting state one scale, that the scale follows the depth that the device states, that it did not change over time, and that exports which resized pictures took the scale with them. Where one of these fails, two files of the same device contradict each other, and at least one of them is wrong.",
		"Headers do not show that a centimetre is a centimetre. A device that was wrong from its first picture on, and always by the same factor, is steady here. So is a wrong speed of sound, and a picture whose pixels were changed without a trace in the header. Pictures in which no depth is stated, of settings with fewer than five pictures, and enlarged parts are listed and not judged. Two devices that look alike can be exchanged unseen.",
		"The sheet Devices has room for name, day and signature. A signature says that a person has looked, not that a device is free of faults.",
	}}
}

func calibrationCautions() Section {
	return Section{Title: "Cautions", Paragraphs: []string{
		"Not for diagnosis or treatment, and no acceptance test: local policy decides how devices are tested, and a physicist signs for them.",
		"Do not take a device out of use, or into use, by this table alone: look at the files named, then at a test object.",
		"A cause is named only where headers name it (software, export route, another device). Everything else is a guess that this workbook does not make.",
	}}
}
