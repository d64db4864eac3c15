package checks

import (
	"fmt"

	"leadline/analyse"
	"leadline/ingest"
)

// LabelImageNotFound is the finding label-image-not-found: a label is of an image that is not there.
var LabelImageNotFound = analyse.Check{
	ID:    "label-image-not-found",
	Title: "a label is of an image that is not there",
	Doc: "The image that a row of a study table (`--labels`) names is not among the files read, or its path is the end of several: " +
		"the row serves nothing.",
	Advice:   "Compare the row with the images table: a SOP Instance UID, or enough of the path, names one image.",
	Severity: analyse.Warning,
}

// LabelImagesNotFound are the findings of rows of study tables that serve nothing.
func LabelImagesNotFound(rows []ingest.LabelRow) []analyse.Finding {
	var findings []analyse.Finding
	for _, row := range rows {
		findings = append(findings, Stamp(&LabelImageNotFound, analyse.Finding{
			SOPUID: row.SOPUID, Path: row.Path,
			Message: fmt.Sprintf("labels %s, row %d: the image is not among the files read, or not the only one", row.Table, row.Line)}))
	}
	return findings
}
