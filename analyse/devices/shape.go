package devices

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"leadline/analyse"
)

// compareShapes wants one pixel shape, mm per pixel across ÷ down, in each layout of a
// transducer. It needs no stated depth, and sees a scale that is wrong one way only.
func (d *device) compareShapes() {
	for _, p := range d.probes {
		groups, keys := byLayout(p.readings)
		for _, key := range keys {
			if group := groups[key]; len(group) >= fewest {
				d.oneShape(group)
			}
		}
	}
}

func (d *device) oneShape(group []*reading) {
	shapes := make([]float64, len(group))
	for i, r := range group {
		shapes[i] = r.x / r.y
	}
	main := mainValue(group, shapes)
	var off []strange
	for i, r := range group {
		if by := apart(shapes[i], main); math.Abs(by) > material+r.slack {
			off = append(off, strange{reading: r, off: by})
		}
	}
	if len(off) == 0 {
		return
	}
	verdict := analyse.DeviceContradicts
	if len(off) == 1 {
		verdict = analyse.DeviceLook
	}
	d.remark(analyse.Remark{Reason: analyse.ReasonShape, Verdict: verdict,
		Text: fmt.Sprintf("%d of %d pictures of one layout: another pixel shape, across ÷ down up to %+.3g %% off%s", len(off), len(group), percent(furthest(off)), d.shared(off))})
	readings := make([]*reading, len(off))
	for i := range off {
		readings[i] = off[i].reading
	}
	d.look(analyse.ReasonShape, readings, "its pixels have another shape than those of most pictures of this size: measure something round")
}

// byLayout parts readings by layout; the layouts of most readings come first.
func byLayout(readings []*reading) (map[layout][]*reading, []layout) {
	by := map[layout][]*reading{}
	for _, r := range readings {
		key := layout{r.rows, r.columns, r.width, r.height}
		by[key] = append(by[key], r)
	}
	keys := make([]layout, 0, len(by))
	for key := range by {
		keys = append(keys, key)
	}
	slices.SortFunc(keys, func(a, b layout) int {
		return cmp.Or(cmp.Compare(len(by[b]), len(by[a])), cmp.Compare(a.rows, b.rows), cmp.Compare(a.columns, b.columns),
			cmp.Compare(a.width, b.width), cmp.Compare(a.height, b.height))
	})
	return by, keys
}
