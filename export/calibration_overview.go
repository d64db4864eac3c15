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
		[]Section{w.heading("Check of ultrasound devices", version), calibrationGlance(c, o)},
		w.testObject(c.TestObject),
		[]Section{
			filesRead(o),
			lookFirst(o),
			calibrationCautions(),
			{Title: "Sheets", Contents: true, Columns: headings("Sheet", "Rows", "What one row is")},
		},
	)
}

func calibrationGlance(c *analyse.Calibration, o overview.Overview) Section {
	return Section{Title: "At a glance", Lines: []Line{
		line(text("Devices"), count(len(c.Devices)), text(fmt.Sprintf("with %s of %s", counted(o.Images, "picture", "pictures"), counted(o.Studies, "study", "studies")))).to("devices", 0),
		line(text("Errors"), count(o.Errors), text("files whose scale cannot be relied on")).marked(Plain, alarmIf(o.Errors)).to("findings", 0),
		line(text("Warnings"), count(o.Warnings), text("look before relying on the scale or the times they name")).marked(Plain, cautionIf(o.Warnings)).to("findings", 0),
	}}
}

func calibrationCautions() Section {
	return Section{Title: "Cautions", Paragraphs: []string{
		"Not for diagnosis or treatment, and no acceptance test: a person signs for a device, and a physicist decides.",
		"Everything here is read from the headers of files. That headers agree with each other does not prove that a centimetre is a centimetre: only a test object, or the ruler in the picture, does.",
	}}
}
