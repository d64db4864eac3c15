package devices

import (
	"math"
	"slices"
	"time"

	"leadline/analyse"
	"leadline/analyse/stats"
)

// The limits of an exchange: common practice, no source.
const (
	// alike is how far the scales of one setting may lie apart where they are said to
	// be those of one device.
	alike = 0.005
	// aside is how long after one device the other may show the exchange.
	aside = 14 * 24 * time.Hour
)

// look of a device in one period: the scale of each region in each size of picture at
// each depth.
type appearance map[spot]float64

type spot struct {
	rows, columns int
	box           [4]int64
	depth         float64
}

// parted is a probe before and after a day from which it looks otherwise.
type parted struct {
	*device
	*probe
	before, after appearance
	// last and first are the last day before and the first after.
	last, first time.Time
}

// findSwaps looks for two devices that took each other's looks at the same time, as
// happens where probes, or the serial numbers that are written into files, are
// exchanged. Two devices that look alike can be exchanged unseen, and without harm.
func findSwaps(all []*device) {
	var halves []parted
	for _, d := range all {
		for _, p := range d.probes {
			if h, ok := part(d, p); ok {
				halves = append(halves, h)
			}
		}
	}
	for i, a := range halves {
		for _, b := range halves[i+1:] {
			if a.device != b.device && a.exchanged(b) {
				a.swapped(b)
				b.swapped(a)
			}
		}
	}
}

// part parts a probe at its step, else where the sizes and regions of its pictures
// all became others.
func part(d *device, p *probe) (parted, bool) {
	at := p.parting
	if at == 0 {
		at = newLooks(p.dated)
	}
	if at == 0 {
		return parted{}, false
	}
	return parted{d, p, appearanceOf(p.dated[:at]), appearanceOf(p.dated[at:]), p.dated[at-1].at, p.dated[at].at}, true
}

// newLooks is the first place, with enough pictures on both sides, that no region of
// one size of picture stands on both sides of; 0 where there is none.
func newLooks(dated []*reading) int {
	last := map[spot]int{}
	for i, r := range dated {
		last[spotOf(r, 0)] = i
	}
	reach := -1
	for i, r := range dated {
		if i > reach && i >= fewest && len(dated)-i >= fewest && r.at.After(dated[i-1].at) {
			return i
		}
		reach = max(reach, last[spotOf(r, 0)])
	}
	return 0
}

func spotOf(r *reading, depth float64) spot { return spot{r.rows, r.columns, r.box, depth} }

func appearanceOf(readings []*reading) appearance {
	by := map[spot][]float64{}
	for _, r := range readings {
		by[spotOf(r, r.depth)] = append(by[spotOf(r, r.depth)], r.y)
	}
	a := appearance{}
	for key, values := range by {
		a[key] = stats.Median(values)
	}
	return a
}

// is tells that two appearances have at least two settings in common, half of those of
// the one that has fewer, and agree in all of them.
func (a appearance) is(b appearance) bool {
	common := 0
	for key, y := range a {
		other, ok := b[key]
		if !ok {
			continue
		}
		if math.Abs(apart(y, other)) > alike {
			return false
		}
		common++
	}
	return common >= 2 && 2*common >= min(len(a), len(b))
}

// exchanged tells that each looks as the other did, at about the same time.
func (a parted) exchanged(b parted) bool {
	return !a.last.After(b.first.Add(aside)) && !b.last.After(a.first.Add(aside)) &&
		a.after.is(b.before) && b.after.is(a.before) && !a.before.is(a.after)
}

// swapped tells of it on one of the two; a step that says the same is taken back.
func (a parted) swapped(b parted) {
	explained := func(reason analyse.RemarkReason) bool {
		return reason == analyse.ReasonStep || reason == analyse.ReasonModel
	}
	a.Remarks = slices.DeleteFunc(a.Remarks, func(r analyse.Remark) bool { return explained(r.Reason) })
	a.LookAt = slices.DeleteFunc(a.LookAt, func(l analyse.LookAt) bool { return explained(l.Reason) })
	a.remark(analyse.Remark{Reason: analyse.ReasonSwapped, Verdict: analyse.DeviceContradicts, Since: stamp(a.first), Other: b.Device,
		Text: "regions and scales are those that another device had before, and that device has its: were probes or serial numbers exchanged?"})
	var after []*reading
	for _, r := range a.dated {
		if !r.at.Before(a.first) {
			after = append(after, r)
		}
	}
	a.look(analyse.ReasonSwapped, after, "one of the first pictures with region and scale of another device: which one made it?")
	a.scale.Change, a.scale.Since = analyse.ChangeExchange, stamp(a.first)
}
