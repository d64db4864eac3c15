package export

import (
	"leadline/analyse"
	"leadline/export/deid"
)

func (w *writer) lookAtTable(devices []analyse.DeviceResult) Table {
	type row = ofDevice[analyse.LookAt]
	study := func(r row) *studyRow { return w.byUID[r.item.Image.Study.UID] }
	d := definition[row]{
		name: "look-at", title: "Look at",
		about:   "One row for each file to look at for a device, up to six for a reason.",
		subject: func(r row) *deid.Subject { return w.aboutUID(r.item.Image.Study.UID) },
		columns: []column[row]{
			deviceColumn(w, thatDevice[analyse.LookAt]),
			{Column: Column{Name: "reason", Heading: "Reason", Kind: Text, Wording: InWords, Width: 20, Place: Front,
				Meaning: "Which evidence of the device it belongs to: " + reasonWords + "."},
				cell: func(r row) Cell { return text(string(r.item.Reason)) }},
			studyNumber(study),
			studyDate(study),
			{Column: Column{Name: "study_uid", Heading: "Study UID", Kind: Text, Width: 18, Place: Back, Rule: deid.UID, Meaning: "Study Instance UID (0020,000D)."},
				cell: func(r row) Cell { return text(r.item.Image.Study.UID) }},
			{Column: Column{Name: "sop_uid", Heading: "SOP UID", Kind: Text, Width: 18, Place: Back, Rule: deid.UID, Meaning: "SOP Instance UID (0008,0018) of the picture."},
				cell: func(r row) Cell { return text(r.item.Image.SOPInstanceUID) }},
			{Column: Column{Heading: "Instance number", Kind: Integer, Width: 9, Place: Front},
				cell: func(r row) Cell { return wholeNumber(r.item.Image.InstanceNumber) }},
			{Column: Column{Name: "path", Heading: "Path", Kind: Text, Width: 56, Wrap: true, Place: Front, Rule: deid.Path, Meaning: "The file."},
				cell: func(r row) Cell { return text(r.item.Image.Path) }},
			{Column: Column{Name: "what", Heading: "What to look at", Kind: Text, Width: 60, Wrap: true, Place: Front, Meaning: "What to compare."},
				cell: func(r row) Cell { return text(r.item.Text) }},
		},
	}
	n, rows := devicesOf(devices, func(d *analyse.DeviceResult) []analyse.LookAt { return d.LookAt })
	return d.table(w.rules, n, rows)
}

// reasonWords are the reasons of evidence.
const reasonWords = "route-resampled (a picture was made larger or smaller, its scale was not), scale-step and scale-drift (the scale of one setting changed over time), swapped (two devices took each other's regions and scales), two-scales (one setting has a second scale), outlier (a picture unlike the others of its setting), pixel-shape (across ÷ down is not that of other pictures of the layout), depth-unfollowed (the scale does not follow the stated depth), region-outside-image"
