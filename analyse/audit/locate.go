package audit

import (
	"fmt"
	"path/filepath"
	"strings"

	"leadline/analyse"
	"leadline/analyse/checks"
	"leadline/ingest"
)

// locator finds the images that tables written by people name: by SOP Instance UID,
// else by path, which is the whole path of a file that was read or the end of only
// one.
type locator struct {
	byUID  map[string]*ingest.Instance
	byName map[string][]*ingest.Instance
}

func newLocator(archive *ingest.Archive) *locator {
	l := &locator{byUID: make(map[string]*ingest.Instance, len(archive.Instances)), byName: map[string][]*ingest.Instance{}}
	for _, inst := range archive.Instances {
		l.byUID[inst.SOPInstanceUID] = inst
		name := filepath.Base(inst.Path)
		l.byName[name] = append(l.byName[name], inst)
	}
	return l
}

// find is nil where no file or more than one is meant.
func (l *locator) find(sopUID, path string) *ingest.Instance {
	if sopUID != "" {
		return l.byUID[sopUID]
	}
	path = filepath.Clean(filepath.FromSlash(path))
	var found *ingest.Instance
	for _, inst := range l.byName[filepath.Base(path)] {
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

// assign hands each row of a table to the study of its image, which it names by
// place, and returns apart the rows whose image is not there, so that none is lost.
func assign[Row any](rows []Row, archive *ingest.Archive, image func(*Row) (sopUID *string, path string)) (byStudy map[string][]Row, lost []Row) {
	byStudy = map[string][]Row{}
	if len(rows) == 0 {
		return byStudy, nil
	}
	l := newLocator(archive)
	for _, row := range rows {
		sopUID, path := image(&row)
		inst := l.find(*sopUID, path)
		if inst == nil {
			lost = append(lost, row)
			continue
		}
		*sopUID = inst.SOPInstanceUID
		byStudy[inst.Study.UID] = append(byStudy[inst.Study.UID], row)
	}
	return byStudy, lost
}

// tables are the rows of the tables that people wrote, by study.
type tables struct {
	calipers map[string][]ingest.CaliperRow
	labels   map[string][]ingest.LabelRow
}

// tablesOf hands the rows to their studies; lost are findings about the others.
func tablesOf(opts Options, archive *ingest.Archive) (t tables, lost []analyse.Finding) {
	var calipers []ingest.CaliperRow
	var labels []ingest.LabelRow
	t.calipers, calipers = assignCalipers(opts.Calipers, archive)
	t.labels, labels = assignLabels(opts.Labels, archive)
	for _, row := range calipers {
		lost = append(lost, checks.Stamp(&checks.ImageNotFound, analyse.Finding{
			SOPUID: row.SOPUID, Path: row.Path,
			Message: fmt.Sprintf("caliper table %s, row %d: its image is not among the files read", row.Table, row.Line)}))
	}
	for _, row := range labels {
		lost = append(lost, checks.Stamp(&checks.LabelImageNotFound, analyse.Finding{
			SOPUID: row.SOPUID, Path: row.Path,
			Message: fmt.Sprintf("labels %s, row %d: the image is not among the files read, or not the only one", row.Table, row.Line)}))
	}
	return t, lost
}

func assignCalipers(rows []ingest.CaliperRow, archive *ingest.Archive) (byStudy map[string][]ingest.CaliperRow, lost []ingest.CaliperRow) {
	return assign(rows, archive, func(r *ingest.CaliperRow) (*string, string) { return &r.SOPUID, r.Path })
}

// assignLabels finds images only.
func assignLabels(rows []ingest.LabelRow, archive *ingest.Archive) (byStudy map[string][]ingest.LabelRow, lost []ingest.LabelRow) {
	var images ingest.Archive
	for _, inst := range archive.Instances {
		if inst.Image != nil && len(rows) > 0 {
			images.Instances = append(images.Instances, inst)
		}
	}
	return assign(rows, &images, func(r *ingest.LabelRow) (*string, string) { return &r.SOPUID, r.Path })
}
