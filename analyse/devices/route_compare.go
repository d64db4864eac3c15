package devices

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"leadline/analyse"
	"leadline/analyse/stats"
	"leadline/ingest"
)

// compareRoutes tells the routes of a device apart and holds each against the pictures
// of the size of the first. The readings of a route whose scale is not that of its
// pictures are left out of what follows: they would be called outliers once more.
func (d *device) compareRoutes() {
	d.tellRoutes()
	d.settleSlack()
	byRoute := make([][]*reading, len(d.Routes))
	var first []*reading
	for _, r := range d.readings {
		byRoute[r.route] = append(byRoute[r.route], r)
		if sizeOf(d.Routes[0]) == (size{r.rows, r.columns}) {
			first = append(first, r)
		}
	}
	left := make([]bool, len(d.Routes))
	var faults []routeFault
	for i := 1; i < len(d.Routes); i++ {
		if sizeOf(d.Routes[i]) == sizeOf(d.Routes[0]) {
			d.Routes[i].Note = "of the size of route 1: compared setting by setting"
			continue
		}
		if what := compareRoute(&d.Routes[i], d.Routes[0], first, byRoute[i]); what != "" {
			left[i] = true
			faults = append(faults, routeFault{d.Routes[i].Number, what, byRoute[i]})
		}
	}
	d.routesContradict(faults, first)
	d.readings = slices.DeleteFunc(d.readings, func(r *reading) bool { return left[r.route] })
}

func sizeOf(r analyse.Route) size { return size{r.Rows, r.Columns} }

// compareRoute holds a route against the first. What it returns is not empty where the
// scale is not that of the pictures, and says so.
func compareRoute(route *analyse.Route, main analyse.Route, first, other []*reading) string {
	resampled := resampledBy(main, *route)
	if resampled != 0 {
		route.Resampled = ingest.Some(resampled)
	}
	if n := unscaled(first, other, resampled); n >= fewest {
		route.Note = fmt.Sprintf("resized, and regions and scale are those of the other size in %s", analyse.Counted(n, "picture", "pictures"))
		return fmt.Sprintf("%.3g times as large as those of route 1, and regions and mm per pixel are the same: on one of the two, lengths are %.3g times too long or too short, unless a frame was drawn around the picture",
			resampled, math.Max(resampled, 1/resampled))
	}
	ratio, slack, compared := depthRatio(first, other)
	if compared < fewest {
		route.Note = "too few pictures of a stated depth to compare"
		return ""
	}
	route.Ratio = ingest.Some(math.Exp(ratio))
	switch {
	case math.Abs(ratio) <= material+slack:
		route.Note = "of another size, and the scale with it"
		return ""
	case resampled != 0 && math.Abs(math.Abs(ratio)-math.Abs(math.Log(resampled))) <= material+slack:
		route.Note = "resized by the factor by which the scale is off"
		what := "deltas were changed with the size, regions were not"
		if (ratio > 0) == (resampled > 1) {
			what = "regions were changed with the size, deltas were not"
		}
		return fmt.Sprintf("%.3g times as large as those of route 1; %s: at the same stated depth they show %.3g times the depth", resampled, what, math.Exp(ratio))
	}
	route.Note = "at the same stated depth it shows another depth than route 1: another margin around the picture, or another scale"
	return ""
}

// resampledBy is how many times as large the pictures of a route are, where rows and
// columns say the same to a pixel; else 0.
func resampledBy(first, other analyse.Route) float64 {
	if first.Columns == 0 || first.Rows == 0 || first.Columns == other.Columns {
		return 0
	}
	factor := float64(other.Columns) / float64(first.Columns)
	if math.Abs(float64(first.Rows)*factor-float64(other.Rows)) > 1 || math.Abs(factor-1) <= material {
		return 0
	}
	return factor
}

// unscaled counts the pictures of a resampled route that have stated depth, region and
// scale of a picture of the first, but for what digits and whole pixels explain.
func unscaled(first, other []*reading, resampled float64) int {
	if resampled == 0 {
		return 0
	}
	type place struct {
		transducer string
		box        [4]int64
		depth      float64
	}
	known := map[place][]float64{}
	for _, r := range first {
		at := place{r.transducer, r.box, r.depth}
		known[at] = append(known[at], r.y)
	}
	for _, scales := range known {
		slices.Sort(scales)
	}
	n := 0
	for _, r := range other {
		scales := known[place{r.transducer, r.box, r.depth}]
		low, _ := slices.BinarySearch(scales, r.y*math.Exp(-2*r.slack))
		if low < len(scales) && apart(scales[low], r.y) <= 2*r.slack {
			n++
		}
	}
	return n
}

// depthRatio is the logarithm of the depth shown on one route over that on another at
// the same stated depth, in the middle of all pictures that can be compared, with the
// part of it that whole pixels explain.
func depthRatio(first, other []*reading) (ratio, slack float64, compared int) {
	type setting struct {
		transducer, dataType string
		depth                float64
	}
	shown := map[setting][]float64{}
	rounding := map[setting]float64{}
	n := 0
	for _, r := range first {
		if r.depth > 0 {
			key := setting{r.transducer, r.dataType, r.depth}
			shown[key] = append(shown[key], r.shown())
			rounding[key] = math.Max(rounding[key], 1/float64(r.height))
		}
	}
	var ratios, slacks []float64
	for _, r := range other {
		key := setting{r.transducer, r.dataType, r.depth}
		if before := shown[key]; r.depth > 0 && len(before) > 0 {
			ratios = append(ratios, apart(r.shown(), stats.Median(before)))
			slacks = append(slacks, rounding[key]+1/float64(r.height))
			n += len(before)
		}
	}
	if len(ratios) == 0 || n < fewest {
		return 0, 0, 0
	}
	return stats.Median(ratios), stats.Median(slacks), len(ratios)
}

// routeFault is what is wrong with a route.
type routeFault struct {
	number   int
	what     string
	readings []*reading
}

// routesContradict tells of the routes, of those with one fault together.
func (d *device) routesContradict(faults []routeFault, first []*reading) {
	var order []string
	by := map[string][]routeFault{}
	for _, f := range faults {
		if by[f.what] == nil {
			order = append(order, f.what)
		}
		by[f.what] = append(by[f.what], f)
	}
	for _, what := range order {
		var numbers []string
		var readings []*reading
		for _, f := range by[what] {
			numbers, readings = append(numbers, fmt.Sprint(f.number)), append(readings, f.readings...)
		}
		name := "route " + numbers[0]
		if len(numbers) > 1 {
			name = "routes " + strings.Join(numbers, ", ")
		}
		d.remark(analyse.Remark{Reason: analyse.ReasonResampled, Verdict: analyse.DeviceContradicts,
			Text: fmt.Sprintf("%s of %s %s %s", analyse.Counted(len(readings), "picture", "pictures"), name, analyse.Agree(len(readings), "is", "are"), what)})
		d.look(analyse.ReasonResampled, readings, "a picture that was resized: compare its depth marks with its scale")
		if i := slices.IndexFunc(first, func(r *reading) bool { return r.depth == readings[0].depth }); i >= 0 {
			d.look(analyse.ReasonResampled, first[i:i+1], "for comparison: a picture of route 1 at the stated depth of the first one")
		}
	}
}
