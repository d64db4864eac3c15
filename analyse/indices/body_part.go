package indices

import "leadline/analyse/physical"

// bodyPart is a part of the body that an index is derived for. sides tells that left and right are
// two; what was measured on different sides is never put into one index.
type bodyPart struct {
	id, title string
	sides     bool
}

// The arteries that Doppler indices are derived for. The pericallosal part of the
// anterior cerebral artery is taken near the midline, where files seldom tell a
// side, so it counts as one vessel.
var vessels = []bodyPart{
	{"aca", "anterior cerebral artery", false},
	{"mca", "middle cerebral artery", true},
	{"pca", "posterior cerebral artery", true},
	{"basilar", "basilar artery", false},
	{"internal-carotid", "internal carotid artery", true},
	{"sma", "superior mesenteric artery", false},
	{"celiac", "coeliac trunk", false},
	{"renal", "renal artery", true},
	{"umbilical-artery", "umbilical artery", false},
	{"abdominal-aorta", "abdominal aorta", false},
	{"descending-aorta", "descending aorta", false},
}

// ofSides makes an index for every part, and for each side of one that has two and
// for measurements that tell no side.
func ofSides(parts []bodyPart, index func(id, title string) Definition) []Definition {
	var list []Definition
	for _, p := range parts {
		d := index(p.id, p.title)
		d.Unsided = p.sides
		list = append(list, d)
		if !p.sides {
			continue
		}
		for _, side := range []string{"left", "right"} {
			d := index(p.id, side+" "+p.title)
			d.ID, d.Side = d.ID+"-"+side, side
			list = append(list, d)
		}
	}
	return list
}

func peak(vessel string) Input {
	return Input{Symbol: "PSV", Measure: vessel + "-peak-systolic-velocity", Unit: physical.CMPerS}
}

func endDiastolic(vessel string) Input {
	return Input{Symbol: "EDV", Measure: vessel + "-end-diastolic-velocity", Unit: physical.CMPerS}
}

// upright turns velocities so that systole is positive: flow away from the probe,
// or a file whose velocity scale is upside down, turns all signs and no index.
func upright(in []float64) (out []float64, sign float64, refusal string) {
	switch {
	case in[0] == 0:
		return nil, 0, "the peak systolic velocity is 0"
	case in[0] > 0:
		return in, 1, ""
	}
	out = make([]float64, len(in))
	for i, v := range in {
		out[i] = -v
	}
	return out, -1, ""
}

// turned gives derivatives by the velocities as they were.
func turned(partials []float64, sign float64) []float64 {
	for i := range partials {
		partials[i] *= sign
	}
	return partials
}
