package assemble

import (
	"path/filepath"
	"strings"

	"leadline/ingest"
)

// Calipers hands each row of the caliper tables to the study of its image.
// A row that names a path is matched against the paths read: the whole path, else
// the one file whose path ends in it. Rows whose image is not there are returned
// apart, so that none is lost.
func Calipers(rows []ingest.CaliperRow, archive *ingest.Archive) (byStudy map[string][]ingest.CaliperRow, lost []ingest.CaliperRow) {
	byStudy = map[string][]ingest.CaliperRow{}
	if len(rows) == 0 {
		return byStudy, nil
	}
	byUID := make(map[string]*ingest.Instance, len(archive.Instances))
	byName := map[string][]*ingest.Instance{}
	for _, inst := range archive.Instances {
		byUID[inst.SOPInstanceUID] = inst
		name := filepath.Base(inst.Path)
		byName[name] = append(byName[name], inst)
	}
	for _, row := range rows {
		inst := byUID[row.SOPUID]
		if row.SOPUID == "" {
			inst = matchPath(row.Path, byName)
		}
		if inst == nil {
			lost = append(lost, row)
			continue
		}
		row.SOPUID = inst.SOPInstanceUID
		byStudy[inst.Study.UID] = append(byStudy[inst.Study.UID], row)
	}
	return byStudy, lost
}

// matchPath finds the one instance whose path is, or ends in, path; nil where
// there is none or more than one.
func matchPath(path string, byName map[string][]*ingest.Instance) *ingest.Instance {
	path = filepath.Clean(filepath.FromSlash(path))
	var found *ingest.Instance
	for _, inst := range byName[filepath.Base(path)] {
		full := filepath.Clean(inst.Path)
		if full != path && !strings.HasSuffix(full, string(filepath.Separator)+path) {
			continue
		}
		if found != nil {
			return nil
		}
		found = inst
	}
	return found
}
