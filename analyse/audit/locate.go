package audit

import (
	"fmt"

	"leadline/analyse"
	"leadline/analyse/assemble"
	"leadline/analyse/checks"
	"leadline/ingest"
)

// tables are the rows of the tables that people wrote, by study.
type tables struct {
	calipers map[string][]ingest.CaliperRow
	labels   map[string][]ingest.LabelRow
}

// tablesOf hands the rows to their studies; lost are findings about the others.
func tablesOf(opts Options, archive *ingest.Archive) (t tables, lost []analyse.Finding) {
	var calipers []ingest.CaliperRow
	var labels []ingest.LabelRow
	t.calipers, calipers = assemble.Calipers(opts.Calipers, archive)
	t.labels, labels = assignLabels(opts.Labels, archive)
	lost = append(lost, checks.CaliperImagesNotFound(calipers)...)
	for _, row := range labels {
		lost = append(lost, checks.Stamp(&checks.LabelImageNotFound, analyse.Finding{
			SOPUID: row.SOPUID, Path: row.Path,
			Message: fmt.Sprintf("labels %s, row %d: the image is not among the files read, or not the only one", row.Table, row.Line)}))
	}
	return t, lost
}

// assignLabels finds images only.
func assignLabels(rows []ingest.LabelRow, archive *ingest.Archive) (byStudy map[string][]ingest.LabelRow, lost []ingest.LabelRow) {
	var images ingest.Archive
	for _, inst := range archive.Instances {
		if inst.Image != nil && len(rows) > 0 {
			images.Instances = append(images.Instances, inst)
		}
	}
	return assemble.Assign(rows, &images, func(r *ingest.LabelRow) (*string, string) { return &r.SOPUID, r.Path })
}
