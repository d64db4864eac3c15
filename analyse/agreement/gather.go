package agreement

import (
	"cmp"
	"maps"
	"slices"

	"leadline/analyse"
	"leadline/analyse/measures"
	"leadline/ingest"
)

// value is a rebuilt measurement with the device of its image.
type value struct {
	*analyse.Measurement
	device *ingest.Device
}

func (v value) key() key {
	return key{device: analyse.DeviceName(v.device), measure: v.Measure, mode: v.Mode, unit: v.Rebuilt.Unit, observer: v.Observer}
}

// usable are the rebuilt values of a study that statistics may use. One caliper
// that was stored twice counts once, under whatever name: nobody sets one on the same
// points twice.
func usable(s *analyse.Study) []value {
	devices := map[string]*ingest.Device{}
	for _, img := range s.Images {
		devices[img.SOPInstanceUID] = img.Device
	}
	var list []value
	met := map[string]bool{}
	for i := range s.Measurements {
		m := &s.Measurements[i]
		device := devices[m.SOPUID]
		if m.Measure == "" || m.Rebuilt == nil || m.Verdict == analyse.VerdictSuspect || device == nil {
			continue
		}
		if caliper := m.CaliperKey(); !met[caliper] {
			met[caliper] = true
			list = append(list, value{m, device})
		}
	}
	return list
}

// named leaves out what the files call no more than a length or an area: two of them
// may be of two things, even on one image.
func named(values []value) []value {
	var list []value
	for _, v := range values {
		if m, _ := measures.Builtin().ByID(v.Measure); !m.Unspecific {
			list = append(list, v)
		}
	}
	return list
}

// compareReported pairs the reported value with the rebuilt one, where they could
// be compared.
func (g groups) compareReported(s *analyse.Study, values []value) {
	for _, v := range values {
		if v.Difference.Set {
			g.add(v.key(), s, v, []float64{v.Rebuilt.Value + v.Difference.Value, v.Rebuilt.Value})
		}
	}
}

// compareRepeats takes the values of one measure that one observer took more than
// once in a study, in one mode and on one side of the body.
func (g groups) compareRepeats(s *analyse.Study, values []value) {
	type repeated struct {
		key
		side string
	}
	sets := map[repeated][]value{}
	for _, v := range named(values) {
		r := repeated{v.key(), v.Side}
		sets[r] = append(sets[r], v)
	}
	for _, r := range slices.SortedFunc(maps.Keys(sets), func(a, b repeated) int {
		return cmp.Or(a.key.compare(b.key), cmp.Compare(a.side, b.side))
	}) {
		if set := sets[r]; len(set) > 1 {
			g.add(r.key, s, set[0], rebuiltOf(set))
		}
	}
}

// compareObservers pairs what two observers measured on the same image; of several
// values of one observer the mean.
func (g groups) compareObservers(s *analyse.Study, values []value) {
	type target struct {
		key
		image, side string
	}
	byObserver := map[target]map[string][]value{}
	for _, v := range named(values) {
		if v.Observer == "" {
			continue
		}
		at := target{v.key(), v.SOPUID, v.Side}
		at.observer = ""
		if byObserver[at] == nil {
			byObserver[at] = map[string][]value{}
		}
		byObserver[at][v.Observer] = append(byObserver[at][v.Observer], v)
	}
	for _, at := range slices.SortedFunc(maps.Keys(byObserver), func(a, b target) int {
		return cmp.Or(a.key.compare(b.key), cmp.Compare(a.image, b.image), cmp.Compare(a.side, b.side))
	}) {
		people := slices.Sorted(maps.Keys(byObserver[at]))
		for i, one := range people {
			for _, other := range people[i+1:] {
				k := at.key
				k.observer, k.other = one, other
				a, b := byObserver[at][one], byObserver[at][other]
				g.add(k, s, a[0], []float64{mean(rebuiltOf(a)), mean(rebuiltOf(b))})
			}
		}
	}
}

func rebuiltOf(values []value) []float64 {
	out := make([]float64, len(values))
	for i, v := range values {
		out[i] = v.Rebuilt.Value
	}
	return out
}

func mean(x []float64) float64 {
	sum := 0.0
	for _, v := range x {
		sum += v
	}
	return sum / float64(len(x))
}
