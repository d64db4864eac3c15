package devices

import (
	"cmp"
	"math"
	"slices"

	"leadline/analyse"
	"leadline/analyse/stats"
	"leadline/ingest"
)

// settingKey tells settings apart.
type settingKey struct {
	transducer string
	view
	exam string
}

// settings lists the settings of the device and judges each.
func (d *device) settings() {
	by := map[settingKey][]*reading{}
	for _, p := range d.probes {
		for _, r := range p.readings {
			key := settingKey{r.transducer, r.view(), r.exam}
			by[key] = append(by[key], r)
		}
	}
	keys := make([]settingKey, 0, len(by))
	for key := range by {
		keys = append(keys, key)
	}
	slices.SortFunc(keys, func(a, b settingKey) int {
		return cmp.Or(cmp.Compare(a.transducer, b.transducer), cmp.Compare(a.dataType, b.dataType), cmp.Compare(a.depth, b.depth), cmp.Compare(a.exam, b.exam),
			cmp.Compare(b.columns, a.columns), cmp.Compare(b.rows, a.rows), cmp.Compare(b.height, a.height), cmp.Compare(b.width, a.width))
	})
	for _, key := range keys {
		d.Settings = append(d.Settings, d.setting(key, by[key]))
	}
}

// setting describes one setting and lists its strange pictures.
func (d *device) setting(key settingKey, group []*reading) analyse.Setting {
	s := analyse.Setting{
		Transducer: key.transducer, Rows: key.rows, Columns: key.columns, Width: key.width, Height: key.height,
		Exam: key.exam, DataType: key.dataType,
	}
	if key.depth > 0 {
		s.DepthMM = ingest.Some(key.depth)
	}
	var x, y []float64
	for _, r := range group {
		x, y = append(x, r.x), append(y, r.y)
		s.Images = append(s.Images, r.img)
	}
	centre := stats.CentreOf(y)
	s.MMPerPixelX, s.MMPerPixelY, s.MAD = stats.Median(x), centre.Median, centre.MAD
	s.Low, s.High = slices.Min(y), slices.Max(y)
	s.Values = valuesOf(group)
	if key.depth > 0 && len(group) >= fewest {
		s.Outliers = ingest.Some(d.judge(group))
		d.compare(group)
	}
	return s
}

func (d *device) compare(group []*reading) {
	for _, r := range group {
		d.compared[r] = true
	}
	d.Compared = len(d.compared)
}

// valuesOf counts the scales that digits and whole pixels do not explain.
func valuesOf(group []*reading) int {
	sorted := slices.SortedFunc(slices.Values(group), func(a, b *reading) int { return cmp.Compare(a.y, b.y) })
	values, first := 1, sorted[0]
	for _, r := range sorted {
		if apart(r.y, first.y) > r.slack+first.slack {
			values, first = values+1, r
		}
	}
	return values
}

// judge finds the pictures of a setting whose scale is not that of most, and returns
// how many of them are outliers. A change over time was told before and is taken out.
func (d *device) judge(group []*reading) int {
	p := d.probeOf(group[0].transducer)
	y := make([]float64, len(group))
	for i, r := range group {
		y[i] = p.steady(r)
	}
	main := mainValue(group, y)
	centre := stats.CentreOf(y)
	outliers := 0
	for i, r := range group {
		off := apart(y[i], main)
		if math.Abs(off) <= 2*r.slack {
			continue
		}
		s := strange{r, off, math.Abs(centre.ModifiedZ(y[i])) > stats.OutlierZ}
		if s.outlier {
			outliers++
		}
		d.strange = append(d.strange, s)
	}
	return outliers
}

func (d *device) probeOf(transducer string) *probe {
	for _, p := range d.probes {
		if p.scale.Transducer == transducer {
			return p
		}
	}
	return &probe{}
}

// mainValue is the scale that most pictures agree on, the smallest of equals.
func mainValue(group []*reading, y []float64) float64 {
	order := make([]int, len(group))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(y[a], y[b]) })
	best, bestFrom, from := 0, 0, 0
	for to := range order {
		for apart(y[order[to]], y[order[from]]) > group[order[to]].slack+group[order[from]].slack {
			from++
		}
		if to-from+1 > best {
			best, bestFrom = to-from+1, from
		}
	}
	return y[order[bestFrom+best/2]]
}
