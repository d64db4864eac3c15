package testobject

import (
	"slices"

	"leadline/analyse"
	"leadline/analyse/physical"
	"leadline/ingest"
	"leadline/ingest/protocol"
	"leadline/ingest/terms"
)

// probe is a device with one transducer, as far as files tell them apart.
type probe struct{ device, transducer string }

func probeOf(d *ingest.Device) probe {
	return probe{analyse.DeviceName(d), d.Transducer}
}

// test is what one study says of one target.
type test struct {
	study  *analyse.Study
	device *ingest.Device
	// measured are the lengths in mm as the scanner has them, and stepU the mean
	// standard uncertainty of one: the step of a pixel, or of the last place of a
	// number that has no caliper. reported counts those numbers, suspect what was
	// left out.
	measured          []float64
	stepU             float64
	reported, suspect int
	sound             sound
}

// series are the tests of one target by one probe in the order of time.
type series struct {
	target *protocol.Target
	tests  []*test
}

// collected is everything that was measured on scans of the test object.
type collected struct {
	// probes have one series for each target.
	probes     map[probe][]*series
	devices    map[probe]*ingest.Device
	scans      map[probe][]*analyse.Study
	unassigned int
}

func collect(scans []*analyse.Study, o *protocol.TestObject) *collected {
	c := &collected{probes: map[probe][]*series{}, devices: map[probe]*ingest.Device{}, scans: map[probe][]*analyse.Study{}}
	for _, s := range scans {
		c.study(s, o)
	}
	return c
}

// study takes the lengths of one study. One caliper that was stored in two places
// counts once; repeats within one place may well lie on the same pixels.
func (c *collected) study(s *analyse.Study, o *protocol.TestObject) {
	devices := map[string]*ingest.Device{}
	for _, img := range s.Images {
		devices[img.SOPInstanceUID] = img.Device
		c.meet(s, img.Device, o)
	}
	met := map[string]string{}
	for i := range s.Measurements {
		m := &s.Measurements[i]
		device := devices[m.SOPUID]
		if device == nil && len(s.Devices) == 1 {
			device = s.Devices[0]
		}
		caliper, place := m.CaliperKey(), m.SourceUID+"\x00"+m.Table
		if first, again := met[caliper]; device == nil || (again && len(m.Points) > 0 && first != place) {
			continue
		}
		met[caliper] = place
		c.meet(s, device, o)
		c.add(s, m, device, o)
	}
}

// meet makes room for the tests of a device.
func (c *collected) meet(s *analyse.Study, d *ingest.Device, o *protocol.TestObject) {
	p := probeOf(d)
	c.devices[p] = d
	if !slices.Contains(c.scans[p], s) {
		c.scans[p] = append(c.scans[p], s)
	}
	if c.probes[p] == nil {
		for i := range o.Targets {
			c.probes[p] = append(c.probes[p], &series{target: &o.Targets[i]})
		}
	}
}

func (c *collected) add(s *analyse.Study, m *analyse.Measurement, d *ingest.Device, o *protocol.TestObject) {
	at := slices.IndexFunc(o.Targets, func(t protocol.Target) bool { return isOf(m, &t) })
	length, rebuilt, ok := lengthOf(m)
	switch {
	case at < 0 && ok:
		c.unassigned++
		return
	case at < 0 || (!ok && m.Verdict != analyse.VerdictSuspect):
		return
	}
	t := c.probes[probeOf(d)][at].of(s, d, o)
	if !ok {
		t.suspect++
		return
	}
	n := float64(len(t.measured))
	t.stepU = (t.stepU*n + length.StdU) / (n + 1)
	t.measured = append(t.measured, length.Value)
	if !rebuilt {
		t.reported++
	}
}

// of is the test of a study, made where it is the first value of it.
func (r *series) of(s *analyse.Study, d *ingest.Device, o *protocol.TestObject) *test {
	if n := len(r.tests); n > 0 && r.tests[n-1].study == s {
		return r.tests[n-1]
	}
	t := &test{study: s, device: d, sound: soundOf(o, s.Start)}
	r.tests = append(r.tests, t)
	return t
}

// isOf tells whether a measurement is of a target.
func isOf(m *analyse.Measurement, t *protocol.Target) bool {
	return slices.ContainsFunc(t.Measures, func(r protocol.Ref) bool { return r.ID == m.Measure }) ||
		slices.ContainsFunc(t.Labels, func(term string) bool { return terms.Fits(m.Label, term) })
}

// lengthOf is the rebuilt value of a measurement, else the reported one, as a length
// in mm; ok is false where it is none or its calibration is suspect.
func lengthOf(m *analyse.Measurement) (q physical.Quantity, rebuilt, ok bool) {
	switch {
	case m.Verdict == analyse.VerdictSuspect:
		return q, false, false
	case m.Rebuilt != nil:
		return *m.Rebuilt, true, m.Rebuilt.Unit == physical.MM
	case m.Reported == nil:
		return q, false, false
	}
	q, ok = m.Reported.In(physical.MM)
	return q, false, ok
}
