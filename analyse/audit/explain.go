package audit

import (
	"leadline/analyse"
	"leadline/analyse/assemble"
	"leadline/analyse/indices"
	"leadline/analyse/physical"
	"leadline/analyse/rebuild"
	"leadline/ingest"
)

// Explain hands over the measurements of one study of a result with the steps that
// led to them, see rebuild.Explain. The archive and the options are those of Run.
func Explain(archive *ingest.Archive, opts Options, s *analyse.Study, each func(*analyse.Measurement, *physical.Work)) {
	calipers, _ := assemble.Calipers(opts.Calipers, archive)
	rebuild.Explain(s, calipers[s.UID], opts.Measures, each)
}

// ExplainIndices hands over the indices of a study that have a value with the steps of
// their uncertainty, see indices.Explain.
func ExplainIndices(s *analyse.Study, each func(*analyse.Index, *physical.Work)) {
	indices.Explain(s, each)
}
