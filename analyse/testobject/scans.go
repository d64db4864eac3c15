package testobject

import (
	"slices"

	"leadline/analyse"
	"leadline/ingest"
	"leadline/ingest/protocol"
	"leadline/ingest/terms"
)

// IsScan tells whether a study is a scan of the test object. Only what its file names
// counts: a picture, a device or an empty patient never makes a study one.
func IsScan(s *analyse.Study, o *protocol.TestObject) bool {
	scans := &o.Scans
	if slices.Contains(scans.Studies, s.UID) {
		return true
	}
	for _, inst := range instances(s) {
		if inst.Patient != nil && slices.Contains(scans.PatientIDs, inst.Patient.ID) {
			return true
		}
		if inst.Study == nil || inst.Series == nil {
			continue
		}
		for _, text := range inst.Descriptions() {
			if text != "" && slices.ContainsFunc(scans.Words, func(w string) bool { return terms.Contains(text, w) }) {
				return true
			}
		}
	}
	return false
}

func instances(s *analyse.Study) []*ingest.Instance {
	var all []*ingest.Instance
	for _, img := range s.Images {
		all = append(all, img.Instance)
	}
	return append(all, s.Reports...)
}

// newest is the latest day of any study of the archive. There is no clock here: the
// same archive must give the same result tomorrow.
func newest(studies []*analyse.Study) ingest.Stamp {
	var last ingest.Stamp
	for _, s := range studies {
		if s.Start.T.After(last.T) {
			last = s.Start
		}
	}
	return last
}
