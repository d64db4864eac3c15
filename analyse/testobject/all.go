package testobject

import (
	"cmp"
	"fmt"
	"maps"
	"slices"

	"leadline/analyse"
	"leadline/ingest"
	"leadline/ingest/protocol"
)

// Judge takes all studies of an archive, in the order of time, with their
// measurements, and says what the scans of the test object among them tell of every
// device. Studies of patients serve for the devices that were never tested only.
func Judge(studies []*analyse.Study, o *protocol.TestObject) *analyse.TestObject {
	out := &analyse.TestObject{Name: o.Name, Title: o.Title, Material: materialOf(o)}
	var scans []*analyse.Study
	used := map[probe]*ingest.Device{}
	for _, s := range studies {
		if IsScan(s, o) {
			scans = append(scans, s)
			if p := s.Patient; p != nil && (p.BirthDate != "" || p.WeightKg.Set) {
				out.LikePatients++
			}
			continue
		}
		for _, img := range s.Images {
			used[probeOf(img.Device)] = img.Device
		}
	}
	out.Scans = len(scans)
	c := collect(scans, o)
	out.Unassigned = c.unassigned
	now := newest(studies)
	for p, d := range c.devices {
		used[p] = d
	}
	for _, p := range slices.SortedFunc(maps.Keys(used), func(a, b probe) int {
		return cmp.Or(cmp.Compare(a.device, b.device), cmp.Compare(a.transducer, b.transducer))
	}) {
		t := c.device(p, used[p], o, now)
		out.Devices = append(out.Devices, t.device)
		out.Targets = append(out.Targets, t.targets...)
		out.Charts = append(out.Charts, t.charts...)
	}
	return out
}

func materialOf(o *protocol.TestObject) string {
	m := &o.Material
	said := fmt.Sprintf("%g m/s", m.SpeedMS)
	if m.U > 0 {
		said += fmt.Sprintf(" ± %g m/s", m.U)
	}
	if m.AtDegrees.Set {
		said += fmt.Sprintf(" at %g °C", m.AtDegrees.Value)
	}
	if m.PerDegree.Set {
		said += fmt.Sprintf(", %+g m/s for each °C", m.PerDegree.Value)
	}
	return said + fmt.Sprintf("; scanners reckon with %g m/s. Source: %s", m.AssumedMS, m.Source)
}
