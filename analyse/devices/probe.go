package devices

import (
	"fmt"
	"math"
	"slices"

	"leadline/analyse"
	"leadline/analyse/stats"
	"leadline/ingest"
)

// probe is one transducer on one device, as the files name it.
type probe struct {
	scale    *analyse.Scale
	readings []*reading
	// shift is the change of scale over time, as a difference of logarithms at a
	// reading; nil where none was found.
	shift func(*reading) float64
	// parting is the index of the first dated reading after a step, 0 where there is
	// none.
	parting int
	dated   []*reading
}

// view is what must have one scale in time: region size, stated depth and kind of data
// within one size of picture.
type view struct {
	rows, columns, width, height int
	depth                        float64
	dataType                     string
}

func (r *reading) view() view {
	return view{r.rows, r.columns, r.width, r.height, r.depth, r.dataType}
}

// compareProbes parts the readings by transducer and looks at each scale over time.
func (d *device) compareProbes() {
	names := []string{}
	by := map[string][]*reading{}
	for _, r := range d.readings {
		if _, known := by[r.transducer]; !known {
			names = append(names, r.transducer)
		}
		by[r.transducer] = append(by[r.transducer], r)
	}
	d.Scales = make([]analyse.Scale, len(names)) // pointed into: it does not grow
	for i, name := range names {
		p := &probe{scale: &d.Scales[i], readings: by[name]}
		*p.scale = analyse.Scale{Transducer: name, Compared: len(p.readings), Change: analyse.ChangeUntold}
		d.probes = append(d.probes, p)
		d.overTime(p)
		d.overLooks(p)
	}
}

// overTime looks for a step or a drift of the scale within views.
func (d *device) overTime(p *probe) {
	p.dated = slices.DeleteFunc(slices.Clone(p.readings), func(r *reading) bool { return r.at.IsZero() || r.depth == 0 })
	if len(p.dated) < longest {
		return
	}
	blocks := map[view]int{}
	series := make([]stats.Observation, len(p.dated))
	var slacks []float64
	for i, r := range p.dated {
		if _, known := blocks[r.view()]; !known {
			blocks[r.view()] = len(blocks)
		}
		series[i] = stats.Observation{Block: blocks[r.view()], At: p.days(r), Value: math.Log(r.y)}
		slacks = append(slacks, r.slack)
	}
	if len(p.dated)-len(blocks) < fewest {
		return
	}
	p.scale.Change = analyse.ChangeNone
	step, stepped := stats.FindStep(series, fewest)
	trend, drifted := stats.FindTrend(series)
	least := 2 * stats.Median(slacks)
	span := series[len(series)-1].At
	stepped = stepped && step.P < certain && math.Abs(step.Shift) > least
	drifted = drifted && trend.P < certain && math.Abs(trend.Slope*span) > least
	switch {
	case drifted && (!stepped || trend.Residual < step.Residual):
		d.drifts(p, trend.Slope, span)
	case stepped:
		d.steps(p, step)
	}
}

// overLooks looks for a change of the scale where the sizes and regions of all
// pictures became others on one day, so that no view stands on both sides. A layout
// may have another margin, so this never is a contradiction.
func (d *device) overLooks(p *probe) {
	at := newLooks(p.dated)
	if at == 0 || p.shift != nil {
		return
	}
	ratio, slack, compared := depthRatio(p.dated[:at], p.dated[at:])
	if compared < fewest || math.Abs(ratio) <= material+slack {
		return
	}
	d.remark(analyse.Remark{Reason: analyse.ReasonStep, Verdict: analyse.DeviceLook, Since: stamp(p.dated[at].at),
		Text: fmt.Sprintf("pictures have other sizes and regions, and show %.3g times the depth at the same stated depth: another margin, or another scale", math.Exp(ratio))})
	d.look(analyse.ReasonStep, p.dated[at:], "one of the first pictures of another layout: compare its depth marks with its scale")
}

// days counts from the first dated reading.
func (p *probe) days(r *reading) float64 { return r.at.Sub(p.dated[0].at).Hours() / 24 }

func verdictOf(shift float64) analyse.DeviceVerdict {
	if math.Abs(shift) >= math.Log1p(material) {
		return analyse.DeviceContradicts
	}
	return analyse.DeviceLook
}

func (d *device) drifts(p *probe, slope, span float64) {
	p.shift = func(r *reading) float64 { return slope * (r.at.Sub(p.dated[0].at).Hours() / 24) }
	p.scale.Change, p.scale.ChangePercent = analyse.ChangeDrift, ingest.Some(percent(slope*span))
	d.remark(analyse.Remark{Reason: analyse.ReasonDrift, Verdict: verdictOf(slope * span),
		Text: fmt.Sprintf("mm per pixel of the same settings drift: %+.3g %% over %.0f days", percent(slope*span), span)})
	pair := extremes(p)
	d.look(analyse.ReasonDrift, pair, "the earliest and the latest picture of one setting: compare their depth marks with their scales")
}

// extremes are the first and the last readings of the view that spans most time.
func extremes(p *probe) []*reading {
	by := map[view][]*reading{}
	for _, r := range p.dated {
		by[r.view()] = append(by[r.view()], r)
	}
	var longest []*reading
	for _, r := range p.dated { // in the order of time, so that equals do not depend on the map
		group := by[r.view()]
		if longest == nil || spanOf(group) > spanOf(longest) {
			longest = group
		}
	}
	return []*reading{longest[0], longest[len(longest)-1]}
}

func spanOf(group []*reading) float64 { return group[len(group)-1].at.Sub(group[0].at).Hours() }

func (d *device) steps(p *probe, step stats.Step) {
	since := p.dated[step.At].at
	p.parting = step.At
	p.shift = func(r *reading) float64 {
		if r.at.Before(since) {
			return 0
		}
		return step.Shift
	}
	s := p.scale
	s.Change, s.ChangePercent, s.Since = analyse.ChangeStep, ingest.Some(percent(step.Shift)), stamp(since)
	s.SoftwareBefore, s.SoftwareAfter = p.dated[step.At-1].software, p.dated[step.At].software
	text := fmt.Sprintf("mm per pixel of the same settings step by %+.3g %%", percent(step.Shift))
	if p.softwareParts() {
		text += fmt.Sprintf(", with the software from %s to %s", orNone(s.SoftwareBefore), orNone(s.SoftwareAfter))
	} else if s.SoftwareBefore == s.SoftwareAfter {
		text += ", the software being the same"
	}
	d.remark(analyse.Remark{Reason: analyse.ReasonStep, Verdict: verdictOf(step.Shift), Text: text, Since: stamp(since)})
	around := p.dated[max(0, step.At-mostFiles/2):min(len(p.dated), step.At+mostFiles/2)]
	d.look(analyse.ReasonStep, around, "among the last pictures before a step of the scale and the first after it: compare their depth marks with their scales")
}

// softwareParts tells that no version stands on both sides of the step.
func (p *probe) softwareParts() bool {
	before := map[string]bool{}
	for _, r := range p.dated[:p.parting] {
		before[r.software] = true
	}
	return !slices.ContainsFunc(p.dated[p.parting:], func(r *reading) bool { return before[r.software] })
}

func orNone(version string) string {
	if version == "" {
		return "(none stated)"
	}
	return version
}

// steady is the scale of a reading without the change over time.
func (p *probe) steady(r *reading) float64 {
	if p.shift == nil || r.at.IsZero() {
		return r.y
	}
	return r.y * math.Exp(-p.shift(r))
}
