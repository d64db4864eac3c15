package devices

import (
	"fmt"
	"math"
	"slices"

	"leadline/analyse"
	"leadline/analyse/stats"
	"leadline/ingest"
)

// layout is what has one margin around the picture, and so shows the same multiple of
// every stated depth: region height × mm per pixel = depth, and margin.
type layout struct{ rows, columns, width, height int }

// overDepth holds the depth shown against the depth stated, across settings.
func (d *device) overDepth() {
	for _, p := range d.probes {
		d.followDepth(p)
	}
}

func (d *device) followDepth(p *probe) {
	var stated []*reading
	for _, r := range p.readings {
		if r.depth > 0 {
			stated = append(stated, r)
		}
	}
	describeDepth(p, stated)
	groups, keys := byLayout(stated)
	for _, key := range keys {
		group := groups[key]
		if len(group) < fewest {
			continue
		}
		d.compare(group)
		if !d.unfollowed(group) {
			d.offLine(p, group)
		}
	}
}

// describeDepth fits the line of all readings.
func describeDepth(p *probe, stated []*reading) {
	var x, y []float64
	depths := map[float64]bool{}
	for _, r := range stated {
		x, y, depths[r.depth] = append(x, r.depth), append(y, r.shown()), true
	}
	s := p.scale
	s.Depths = len(depths)
	if len(x) == 0 {
		return
	}
	s.DepthLow, s.DepthHigh = ingest.Some(slices.Min(x)), ingest.Some(slices.Max(x))
	if line, ok := stats.FitLine(x, y); ok && len(x) >= fewest {
		s.Slope, s.SlopeLow, s.SlopeHigh = ingest.Some(line.Slope.Value), ingest.Some(line.Slope.Low), ingest.Some(line.Slope.High)
		s.InterceptMM, s.ResidualMM = ingest.Some(line.Intercept.Value), ingest.Some(line.ResidualSD)
	}
}

// What a slope needs to speak of a scale: so many depths, and so long a way between
// them that the whole millimetre in which depth is stated does not matter. mostPaired
// bounds the work; more pictures tell no more.
const (
	fewestDepths = 3
	depthRangeMM = 10
	mostPaired   = 200
)

// unfollowed tells a layout whose scale does not follow the stated depth at all, as
// where one scale was copied into every file.
func (d *device) unfollowed(group []*reading) bool {
	var x, y []float64
	depths := map[float64]bool{}
	for i := 0; i < len(group); i += 1 + len(group)/mostPaired {
		r := group[i]
		x, y, depths[r.depth] = append(x, r.depth), append(y, r.shown()), true
	}
	span := slices.Max(x) - slices.Min(x)
	slope, ok := stats.MedianSlope(x, y)
	if !ok || len(depths) < fewestDepths || span < depthRangeMM ||
		slope*span/(span-2*depthStep) >= followLow && slope*span/(span+2*depthStep) <= followHigh {
		return false
	}
	verdict := analyse.DeviceContradicts
	if !zeroKnown(group) {
		verdict = analyse.DeviceLook // enlarged parts would look like this, and could not be told
	}
	d.remark(analyse.Remark{Reason: analyse.ReasonDepth, Verdict: verdict,
		Text: fmt.Sprintf("the scale does not follow the stated depth: 1 mm more depth shows %.3g mm more (%d pictures, %d depths)", slope, len(group), len(depths))})
	d.look(analyse.ReasonDepth, group, "compare the stated depth, the depth marks and the scale")
	return true
}

func zeroKnown(group []*reading) bool {
	return !slices.ContainsFunc(group, func(r *reading) bool { return !r.zeroKnown })
}

// offLine finds the pictures whose depth shown is another multiple of the depth stated
// than that of their layout, and which no setting told of.
func (d *device) offLine(p *probe, group []*reading) {
	multiples := make([]float64, len(group))
	for i, r := range group {
		multiples[i] = p.steady(r) * float64(r.height) / r.depth
	}
	centre := stats.CentreOf(multiples)
	told := map[*reading]bool{}
	for _, s := range d.strange {
		told[s.reading] = true
	}
	for i, r := range group {
		allowed := material + depthStep/r.depth + r.slack
		off := apart(multiples[i], centre.Median)
		if math.Abs(off) > allowed && math.Abs(centre.ModifiedZ(multiples[i])) > stats.OutlierZ && !told[r] {
			d.strange = append(d.strange, strange{r, off, true})
		}
	}
}
