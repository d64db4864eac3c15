package demo

import (
	"math/rand/v2"
	"time"
)

// plan is what a study will be, before anything is drawn.
type plan struct {
	ordinal int
	kind    kind
	device  int
	patient patient
	day     time.Time
	defects []string
	split   bool
}

// archiveMonth is the month of the archive.
var archiveMonth = time.Date(2026, time.September, 1, 0, 0, 0, 0, time.UTC)

// curated is the small archive: kind, device, and what goes wrong. Half of the
// studies and more are clean.
var curated = []struct {
	kind    kind
	device  int
	defects []string
}{
	{heart, 0, nil},
	{lung, 3, nil},
	{head, 2, nil},
	{vessels, 3, nil},
	{heart, 1, []string{"missing-view", "clip-short"}},
	{head, 0, nil},
	{lung, 4, nil},
	{vessels, 4, []string{"value-off", "no-value", "image-missing", "report-before"}},
	{heart, 2, nil},
	{head, 2, []string{"resampled", "no-zero", "depth-off", "continued-next-day"}},
	{lung, 3, []string{"no-timing", "cine-contradicts", "weight-grams", "header-comma", "clock-set-back"}},
	{vessels, 3, nil},
	{head, 0, []string{"media-incomplete"}},
	{heart, 0, []string{"missing-measure", "across-regions", "caliper-outside"}},
	{vessels, 3, []string{"spectrum-up", "spacing-off", "no-extent", "clock-behind"}},
	{lung, 4, nil},
	{head, 2, []string{"regions-overlap", "unit-one", "clash", "two-clocks"}},
	{lung, 3, []string{"burned-in-only", "trace-empty", "trace-backward", "trace-endless", "trace-in-cm", "trace-elsewhere", "made-before-taken"}},
	{heart, 1, []string{"report-partial", "untimed-heart", "biplane-off"}},
	{vessels, 4, []string{"calibration-stripped", "pulses-few", "scale-flag", "views-unsaid", "born-later"}},
	{lung, 4, []string{"pixels-cut", "copy", "header-cut", "frame-time-zero", "lossy-twice", "ruler-off", "index-mechanical"}},
	{head, 0, nil},
	{heart, 1, []string{"report-late", "table-off", "weight-grams-heart", "view-in-report"}},
	{vessels, 3, []string{"bound-exclusive", "sequence-lost", "made-afterwards"}},
	{lung, 4, nil},
	{head, 2, []string{"index-thermal", "unit-mixed", "two-patients", "burned-in-unknown", "label-slip", "view-in-annotation"}},
	{vessels, 4, nil},
	{lung, 3, []string{"region-unscaled", "millimetres", "stretched", "wrapped", "strip-deep", "clock-next-year", "index-absurd"}},
	{heart, 0, nil},
	{head, 0, nil},
	{lung, 3, nil},
	{vessels, 4, nil},
}

// defectEvery is how often a study of a generated archive has a defect: one in
// so many.
const defectEvery = 3

// usual are the kinds of study by how often they come, in ten; probes the devices
// that suit each.
var (
	usual  = []kind{heart, lung, head, lung, vessels, heart, lung, head, heart, vessels}
	probes = map[kind][]int{heart: {0, 1, 2}, lung: {3, 4}, head: {2, 0}, vessels: {3, 4}}
)

// plans lists the studies of an archive.
func plans(o Options) []plan {
	if o.Studies <= 0 {
		return curatedPlans(o.Seed)
	}
	if o.Months > 1 {
		return yearPlans(o)
	}
	list := make([]plan, o.Studies)
	for i := range list {
		p := plan{ordinal: i, kind: usual[i%len(usual)]}
		if i%defectEvery == defectEvery-1 {
			d := defectList[i/defectEvery%len(defectList)]
			p.kind, p.defects = d.kind, []string{d.name}
		}
		suitable := probes[p.kind]
		p.device = suitable[i/len(usual)%len(suitable)]
		list[i] = p.dated(o.Seed, i, o.Studies)
	}
	return list
}

func curatedPlans(seed int64) []plan {
	list := make([]plan, len(curated))
	for i, c := range curated {
		p := plan{ordinal: i, kind: c.kind, device: c.device, defects: c.defects, split: i == 5 || i == 8}
		list[i] = p.dated(seed, i, len(curated))
	}
	return list
}

// dated gives the plan its patient and its day of the month.
func (p plan) dated(seed int64, i, n int) plan {
	rng := rand.New(rand.NewPCG(uint64(seed), uint64(i)))
	p.patient = newPatient(rng, i)
	p.day = archiveMonth.AddDate(0, 0, i*30/n)
	return p
}
