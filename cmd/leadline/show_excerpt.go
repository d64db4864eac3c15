package main

import (
	"slices"

	"leadline/analyse"
	"leadline/analyse/checks"
	"leadline/ingest"
)

// excerptOf is the part of a result that is about one file: its ledger entry, its
// study with this image alone, the measurements taken from it or stored in it, and
// the findings about it. With the last file of a study come its indices that could be
// derived; which could not, some files of a study do not tell.
func excerptOf(result *analyse.Result, entry *ingest.Entry, last bool) *analyse.Result {
	one := &analyse.Result{Ledger: []ingest.Entry{*entry}, Inputs: result.Inputs}
	about := func(f analyse.Finding) bool {
		return !slices.Contains(ofProtocols, f.ID) && (f.Path == entry.Path || (f.Path == "" && f.StudyUID == entry.StudyUID && (f.SOPUID == "" || f.SOPUID == entry.SOPUID)))
	}
	one.Findings = keep(result.Findings, about)
	for _, s := range result.Studies {
		if s.UID != entry.StudyUID {
			continue
		}
		part := *s
		part.Images = keep(s.Images, func(img *analyse.Image) bool { return img.Path == entry.Path })
		part.Measurements = keep(s.Measurements, func(m analyse.Measurement) bool {
			return m.SOPUID == entry.SOPUID || m.SourceUID == entry.SOPUID || m.Second != nil && m.Second.SOPUID == entry.SOPUID
		})
		part.Items = nil
		part.Indices = keep(s.Indices, func(x analyse.Index) bool { return last && x.Value != nil })
		one.Studies = append(one.Studies, &part)
	}
	return one
}

// ofProtocols are findings about what a study lacks: some files of it do not tell.
var ofProtocols = []string{checks.ItemMissing.ID, checks.ItemPartial.ID, checks.ItemNotAssessable.ID, checks.ProtocolUnused.ID}

func keep[T any](all []T, wanted func(T) bool) []T {
	var kept []T
	for _, v := range all {
		if wanted(v) {
			kept = append(kept, v)
		}
	}
	return kept
}
