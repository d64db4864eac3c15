package devices

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"leadline/analyse"
)

// Where depth is not stated, the scales of a layout are still few: one for each depth
// that the device offers. The limits of what they say: common practice, no source.
const (
	// fewestScales is how many scales must have moved together.
	fewestScales = 3
	// mostShift is how far, as a difference of logarithms: by more, one depth setting
	// becomes another.
	mostShift = 0.15
)

// moved looks, in pictures without a stated depth, for a day from which all scales of a
// layout are new and each is the same multiple of an earlier one.
func (d *device) moved() {
	for _, p := range d.probes {
		groups, keys := byLayout(slices.DeleteFunc(slices.Clone(p.readings), func(r *reading) bool { return r.stated || r.enlarged || r.at.IsZero() }))
		for _, key := range keys {
			group := groups[key]
			at := newScales(group)
			if at == 0 {
				continue
			}
			shift, ok := sameMultiple(scalesOf(group[:at]), scalesOf(group[at:]))
			if !ok {
				continue
			}
			d.remark(analyse.Remark{Reason: analyse.ReasonStep, Verdict: analyse.DeviceLook, Since: stamp(group[at].at),
				Text: fmt.Sprintf("no depth is stated, and all scales of a layout are new, each %.4g times an earlier one", math.Exp(shift))})
			d.look(analyse.ReasonStep, group[max(0, at-mostFiles/2):], "among the last pictures before all scales moved and the first after it: compare their depth marks with their scales")
		}
	}
}

// newScales is the first place, with enough pictures on both sides, that no scale
// stands on both sides of; 0 where there is none.
func newScales(group []*reading) int {
	if len(group) < longest {
		return 0
	}
	sorted := slices.SortedFunc(slices.Values(group), func(a, b *reading) int { return cmp.Compare(a.y, b.y) })
	cluster := map[*reading]int{}
	for i, r := range sorted {
		if i > 0 {
			before := sorted[i-1]
			cluster[r] = cluster[before]
			if apart(r.y, before.y) > r.slack+before.slack {
				cluster[r]++
			}
		}
	}
	last := map[int]int{}
	for i, r := range group {
		last[cluster[r]] = i
	}
	reach := -1
	for i, r := range group {
		if i > reach && i >= fewest && len(group)-i >= fewest && r.at.After(group[i-1].at) {
			return i
		}
		reach = max(reach, last[cluster[r]])
	}
	return 0
}

// scalesOf are the different scales of readings, ascending.
func scalesOf(group []*reading) []float64 {
	sorted := slices.SortedFunc(slices.Values(group), func(a, b *reading) int { return cmp.Compare(a.y, b.y) })
	out := []float64{sorted[0].y}
	for _, r := range sorted[1:] {
		if apart(r.y, out[len(out)-1]) > 2*r.slack {
			out = append(out, r.y)
		}
	}
	return out
}

// sameMultiple is the factor, as a difference of logarithms, by which every scale after
// is one of those before.
func sameMultiple(before, after []float64) (float64, bool) {
	if len(after) < fewestScales {
		return 0, false
	}
	for _, b := range before {
		shift := apart(after[0], b)
		if math.Abs(shift) > mostShift || math.Abs(shift) < material/2 {
			continue
		}
		if !slices.ContainsFunc(after, func(a float64) bool { return !among(before, a, shift) }) {
			return shift, true
		}
	}
	return 0, false
}

// among tells that a scale less the shift is one of those before.
func among(before []float64, a, shift float64) bool {
	return slices.ContainsFunc(before, func(b float64) bool { return math.Abs(apart(a, b)-shift) <= alike })
}
