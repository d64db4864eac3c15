package audit

import (
	"slices"

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
	t.labels, labels = assemble.Labels(opts.Labels, archive)
	return t, slices.Concat(checks.CaliperImagesNotFound(calipers), checks.LabelImagesNotFound(labels))
}
