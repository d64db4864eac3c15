package checks

import (
	"fmt"

	"leadline/analyse"
	"leadline/ingest"
)

// ImageNotFound is the finding image-not-found: a caliper refers to an image that is not there.
var ImageNotFound = analyse.Check{
	ID:       "image-not-found",
	Title:    "a caliper refers to an image that is not there",
	Doc:      "The image that a measurement was taken from is not among the files read, so nothing can be rebuilt.",
	Advice:   "Export the whole study; the missing image may be in another folder.",
	Severity: analyse.Warning,
	Run:      byReason("image-not-found"),
}

// CaliperImagesNotFound are the findings of rows of caliper tables whose image is
// nowhere in the archive, and which belong to no study therefore.
func CaliperImagesNotFound(rows []ingest.CaliperRow) []analyse.Finding {
	var findings []analyse.Finding
	for _, row := range rows {
		findings = append(findings, Stamp(&ImageNotFound, analyse.Finding{
			SOPUID: row.SOPUID, Path: row.Path,
			Message: fmt.Sprintf("caliper table %s, row %d: its image is not among the files read", row.Table, row.Line)}))
	}
	return findings
}
