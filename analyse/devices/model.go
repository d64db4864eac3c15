package devices

import (
	"fmt"
	"math"

	"leadline/analyse"
	"leadline/analyse/stats"
	"leadline/ingest"
)

// fewestUnits is how many devices of a model it takes to say which one is unlike the
// others.
const fewestUnits = 3

// kin is what devices have in common that are compared.
type kin struct{ maker, model, transducer string }

// compareModels holds the devices of one model and transducer against each other,
// setting by setting.
func compareModels(all []*device) {
	groups := map[kin][]*probe{}
	var order []kin
	owner := map[*probe]*device{}
	for _, d := range all {
		for _, p := range d.probes {
			key := kin{d.Device.Manufacturer, d.Device.Model, p.scale.Transducer}
			if groups[key] == nil {
				order = append(order, key)
			}
			groups[key] = append(groups[key], p)
			owner[p] = d
		}
	}
	for _, key := range order {
		if group := groups[key]; key.model != "" && len(group) > 1 {
			spread(group, owner)
		}
	}
}

// spread compares each probe of a group with the median of all in the views that they
// have in common.
func spread(group []*probe, owner map[*probe]*device) {
	medians := make([]map[view]float64, len(group))
	for i, p := range group {
		medians[i] = p.medians()
	}
	for i, p := range group {
		offs, units := compareViews(i, medians)
		if units == 0 {
			continue
		}
		off := stats.Median(offs)
		p.scale.ModelDevices, p.scale.OffModelPercent = units, ingest.Some(percent(off))
		if units >= fewestUnits && math.Abs(off) > material {
			owner[p].remark(analyse.Remark{Reason: analyse.ReasonModel, Verdict: analyse.DeviceLook,
				Text: fmt.Sprintf("mm per pixel is %+.3g %% off the middle of %d devices of the model at the same settings", percent(off), units)})
		}
	}
}

// compareViews are the differences of one probe to the median of all, in the views
// that most probes have, and how many probes those are; 0 where no other has one.
func compareViews(i int, medians []map[view]float64) (offs []float64, units int) {
	for key, own := range medians[i] {
		values := []float64{own}
		for j, other := range medians {
			if v, ok := other[key]; ok && j != i {
				values = append(values, v)
			}
		}
		switch {
		case len(values) < 2 || len(values) < units:
		case len(values) > units:
			offs, units = []float64{apart(own, stats.Median(values))}, len(values)
		default:
			offs = append(offs, apart(own, stats.Median(values)))
		}
	}
	return offs, units
}

// medians are the scales of a probe's views that hold enough pictures, without its
// change over time, of which it was told.
func (p *probe) medians() map[view]float64 {
	by := map[view][]float64{}
	for _, r := range p.readings {
		if r.depth > 0 {
			by[r.view()] = append(by[r.view()], p.steady(r))
		}
	}
	out := map[view]float64{}
	for key, values := range by {
		if len(values) >= fewest {
			out[key] = stats.Median(values)
		}
	}
	return out
}
