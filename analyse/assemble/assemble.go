// Package assemble puts instances together to studies, across folders, by Study
// Instance UID, and says of each image and region what follows from its header
// alone: kind, modes, view, timing, calibration.
package assemble

import (
	"cmp"
	"slices"
	"sort"

	"leadline/analyse"
	"leadline/ingest"
)

// Studies puts the instances together to studies, ordered by start and UID.
// Images of a study are ordered by the time they were acquired, then by instance
// number and UID, all else by the time of its content and UID: never by path, so that
// it does not matter where files lie.
func Studies(instances []*ingest.Instance) []*analyse.Study {
	byUID := map[string]*analyse.Study{}
	var studies []*analyse.Study
	known := pictures{}
	for _, inst := range instances {
		s, ok := byUID[inst.Study.UID]
		if !ok {
			s = &analyse.Study{UID: inst.Study.UID}
			byUID[s.UID] = s
			studies = append(studies, s)
		}
		add(s, inst, known)
	}
	for _, s := range studies {
		finish(s)
	}
	sort.SliceStable(studies, func(i, j int) bool {
		a, b := studies[i], studies[j]
		if d := a.Start.Reading().Compare(b.Start.Reading()); d != 0 {
			return d < 0
		}
		return a.UID < b.UID
	})
	return studies
}

func add(s *analyse.Study, inst *ingest.Instance, known pictures) {
	switch {
	case inst.Image != nil:
		s.Images = append(s.Images, &analyse.Image{Instance: inst, Picture: known.of(inst.Image), Acquired: clockTime(inst)})
	case inst.Report != nil:
		s.Reports = append(s.Reports, inst)
	case inst.Presentation != nil:
		s.Presentations = append(s.Presentations, inst)
	default:
		s.Others = append(s.Others, inst)
	}
}

// finish settles what the study says as a whole.
func finish(s *analyse.Study) {
	sortImages(s.Images)
	for _, list := range [][]*ingest.Instance{s.Reports, s.Presentations, s.Others} {
		slices.SortStableFunc(list, func(a, b *ingest.Instance) int {
			return cmp.Or(a.Content.T.Compare(b.Content.T), cmp.Compare(a.SOPInstanceUID, b.SOPInstanceUID))
		})
	}
	countImages(s)
	all := instancesOf(s)
	s.Header, s.Patient = all[0].Study, all[0].Patient
	for _, inst := range all {
		s.Header = fuller(s.Header, inst.Study)
		if s.Patient.WeightKg.Set {
			continue
		}
		if inst.Patient.WeightKg.Set {
			s.Patient = inst.Patient
		}
	}
	s.Patients = countPatients(all)
	s.Start = startOf(s, all)
	s.First, s.Last = span(s.Images)
	if !s.First.IsZero() && s.First.HasTime && s.Last.HasTime {
		s.DurationS = ingest.Some(s.Last.After(s.First).Seconds())
	}
	devicesOf(s)
	s.Operators = operatorsOf(all)
}

func countImages(s *analyse.Study) {
	for _, img := range s.Images {
		s.Totals.Images++
		if img.Kind == analyse.Clip {
			s.Totals.Clips++
		} else {
			s.Totals.Stills++
		}
	}
}

// instancesOf lists everything of the study, images first.
func instancesOf(s *analyse.Study) []*ingest.Instance {
	all := make([]*ingest.Instance, 0, len(s.Images)+len(s.Reports)+len(s.Presentations)+len(s.Others))
	for _, img := range s.Images {
		all = append(all, img.Instance)
	}
	all = append(all, s.Reports...)
	all = append(all, s.Presentations...)
	return append(all, s.Others...)
}

func sortImages(images []*analyse.Image) {
	sort.SliceStable(images, func(i, j int) bool {
		a, b := images[i], images[j]
		if d := a.Acquired.Reading().Compare(b.Acquired.Reading()); d != 0 {
			return d < 0
		}
		if a.InstanceNumber.Value != b.InstanceNumber.Value {
			return a.InstanceNumber.Value < b.InstanceNumber.Value
		}
		return a.SOPInstanceUID < b.SOPInstanceUID
	})
}

// fuller keeps the header that says when the study began, and its numbers.
func fuller(a, b *ingest.Study) *ingest.Study {
	if a.Start.IsZero() && !b.Start.IsZero() {
		return b
	}
	return a
}

// countPatients counts different patient ids; where an id is empty the name tells.
func countPatients(all []*ingest.Instance) int {
	seen := map[string]bool{}
	for _, inst := range all {
		key := "id:" + inst.Patient.ID
		if inst.Patient.ID == "" {
			if inst.Patient.Name == "" {
				continue
			}
			key = "name:" + inst.Patient.Name
		}
		seen[key] = true
	}
	return len(seen)
}

// startOf is the study's own date and time, else its first image's.
func startOf(s *analyse.Study, all []*ingest.Instance) ingest.Stamp {
	if !s.Header.Start.IsZero() {
		return s.Header.Start
	}
	var first ingest.Stamp
	for _, inst := range all {
		first = earlier(first, clockTime(inst))
	}
	return first
}

func span(images []*analyse.Image) (first, last ingest.Stamp) {
	for _, img := range images {
		if img.Acquired.IsZero() {
			continue
		}
		first = earlier(first, img.Acquired)
		if last.IsZero() || img.Acquired.After(last) > 0 {
			last = img.Acquired
		}
	}
	return first, last
}

func earlier(a, b ingest.Stamp) ingest.Stamp {
	if a.IsZero() || (!b.IsZero() && b.After(a) < 0) {
		return b
	}
	return a
}

// clockTime is when an instance was made, by the order of trust that follows from
// the definitions of PS3.3 C.7.6.1: acquisition, content, series, study.
func clockTime(inst *ingest.Instance) ingest.Stamp {
	for _, s := range []ingest.Stamp{inst.Acquisition, inst.Content, inst.Series.Start, inst.Study.Start} {
		if !s.IsZero() {
			return s
		}
	}
	return ingest.Stamp{}
}

// devicesOf lists the devices that made images, the busiest first; a study of
// reports only has the device that wrote them.
func devicesOf(s *analyse.Study) {
	count := map[*ingest.Device]int{}
	for _, inst := range instancesOf(s) {
		if len(s.Images) > 0 && inst.Image == nil {
			continue
		}
		if count[inst.Device] == 0 {
			s.Devices = append(s.Devices, inst.Device)
		}
		count[inst.Device]++
	}
	sort.SliceStable(s.Devices, func(i, j int) bool { return count[s.Devices[i]] > count[s.Devices[j]] })
	if len(s.Devices) > 0 {
		s.Device = analyse.DeviceName(s.Devices[0])
	}
}

func operatorsOf(all []*ingest.Instance) []string {
	var names []string
	seen := map[string]bool{}
	for _, inst := range all {
		if name := inst.Series.Operators; name != "" && !seen[name] {
			seen[name] = true
			names = append(names, name)
		}
	}
	return names
}
