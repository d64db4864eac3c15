package checks

import "leadline/analyse"

// LabelContradicts is the finding label-contradicts: a label says otherwise than the header.
var LabelContradicts = analyse.Check{
	ID:    "label-contradicts",
	Title: "a label says otherwise than the header",
	Doc: "A row of a study table (`--labels`) gives an image another view, side or mode than its header, an annotation or a report, " +
		"or another of these or another exam than an earlier row. The label is the word of a person who looked at the picture, so it stands, and of two labels the first. " +
		"A wider view, or some of the modes that the header tells, is no contradiction.",
	Advice:   "Look at the picture; correct the table, or the view button of the device.",
	Severity: analyse.Warning,
	Run:      eachImage(func(img *analyse.Image) string { return img.LabelConflict }),
}
