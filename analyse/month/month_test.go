package month

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"leadline/analyse"
	"leadline/ingest"
)

const protocolName = "ward-protocol"

var start = time.Date(2026, time.January, 5, 8, 0, 0, 0, time.UTC) // a Monday

// year draws studies from Monday on: so many a week, each of ten required items, of
// which each is met with the probability that the week says, and lengths in seconds.
func year(rng *rand.Rand, weeks, perWeek int, met func(week int) float64, length func(week int) float64) []*analyse.Study {
	var studies []*analyse.Study
	for w := range weeks {
		for i := range perWeek {
			at := start.AddDate(0, 0, 7*w+i*7/perWeek)
			s := studyAt(fmt.Sprintf("%03d.%03d", w, i), at)
			for k := range 10 {
				status := analyse.Met
				if rng.Float64() >= met(w) {
					status = analyse.Missing
				}
				s.Items = append(s.Items, item(fmt.Sprintf("item-%d", k), status))
			}
			s.DurationS = ingest.Some(length(w) + 60*rng.NormFloat64())
			studies = append(studies, s)
		}
	}
	return studies
}

func studyAt(uid string, at time.Time) *analyse.Study {
	d := &ingest.Device{Model: "Tern 2", Serial: "1"}
	return &analyse.Study{UID: uid, Header: &ingest.Study{Department: "NICU"}, Start: ingest.Stamp{T: at, HasTime: true},
		Device: "Tern 2 1", Devices: []*ingest.Device{d}, Operators: []string{"Quill^Ann"}}
}

func item(id string, status analyse.ItemStatus) *analyse.ItemResult {
	return &analyse.ItemResult{Protocol: protocolName, Item: id, Title: "Title of " + id, Required: true, Status: status}
}

func always(v float64) func(int) float64 { return func(int) float64 { return v } }

func of(studies []*analyse.Study, o Options) analyse.Month {
	o.Protocols = []string{protocolName}
	return Of(studies, o)
}

func chart(t *testing.T, m analyse.Month, kind analyse.ChartKind, subject string) analyse.Chart {
	t.Helper()
	for _, c := range m.Charts {
		if c.Kind == kind && c.Subject == subject {
			return c
		}
	}
	t.Fatalf("no %s chart of %s", kind, subject)
	return analyse.Chart{}
}

func signals(c analyse.Chart) (points, rules int, labels []string) {
	for _, p := range c.Points {
		if len(p.Signals) > 0 {
			points, rules = points+1, rules+len(p.Signals)
			labels = append(labels, p.Label)
		}
	}
	return points, rules, labels
}

// TestItemCharts: a single item that is lost for three weeks signals in a chart of its
// own, which stands first; an item that no study lacks has none; and with a least cell
// none is left, since no rate shows what its weeks count.
func TestItemCharts(t *testing.T) {
	studies := year(rand.New(rand.NewPCG(1, 5)), 30, 10, always(1), always(600))
	for i, s := range studies {
		if w := i / 10; w >= 20 && w < 23 && i%2 == 0 {
			s.Items[4].Status = analyse.Partial
		}
		if i%40 == 0 {
			s.Items[7].Status = analyse.NotAssessable
		}
		if i%100 == 5 {
			s.Items[2].Status = analyse.Missing
		}
	}
	charts := func(o Options) (list []analyse.Chart) {
		for _, c := range of(studies, o).Charts {
			if c.Item != "" {
				list = append(list, c)
			}
		}
		return list
	}
	got := charts(Options{})
	if len(got) != 2 || got[0].Item != "item-4" || got[1].Item != "item-2" || got[0].Title != "Title of item-4, by week" {
		t.Fatalf("charts of %+v", got)
	}
	if _, _, weeks := signals(got[0]); !slices.Equal(weeks, []string{"2026-W22", "2026-W23", "2026-W24"}) {
		t.Errorf("signals in %v", weeks)
	}
	// 15 of 300 lack it: 0.95 ± 3·√(0.95·0.05/10).
	if p := got[0].Points[0]; p.Denominator != 10 || math.Abs(p.Centre.Value-0.95) > 1e-12 || math.Abs(p.Lower.Value-0.743239) > 1e-6 || p.Upper.Value != 1 {
		t.Errorf("limits %+v", p)
	}
	if left := charts(Options{MinCell: 2}); len(left) != 0 {
		t.Errorf("with a least cell %d charts of single items are left", len(left))
	}
}

// A steady year gives false alarms as often as published, not more. Per chart of
// shares and year of 52 weeks: Anhøj's two rules together about 0.05 (each is made for
// about 5 %: Anhøj and Olesen 2014, from memory, together below 0.1), and one point
// beyond three sigma 52 × 0.0027 = 0.14. Of individuals: one of the Western Electric
// rules every 91.75 points (Champ and Woodall 1987), and runs of signals on top.
func TestSteadyYear(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and hardly anything in it at once")
	}
	const seeds = 200
	complete, items, first, ranges := 0, 0, 0, 0
	studies, single := 0, 0
	for seed := range uint64(seeds) {
		rng := rand.New(rand.NewPCG(seed, 11))
		m := of(year(rng, 52, 10, always(.93), always(600)), Options{})
		_, n, _ := signals(chart(t, m, analyse.ChartP, "complete-studies"))
		complete += n
		_, n, _ = signals(chart(t, m, analyse.ChartP, "items-met"))
		items += n
		for _, c := range m.Charts {
			if c.Item != "" {
				_, n, _ = signals(c)
				single += n
			}
		}
		x := chart(t, m, analyse.ChartIndividuals, "study-length")
		studies += len(x.Points)
		for _, p := range x.Points {
			if slices.Contains(p.Signals, "beyond-limits") {
				first++
			}
		}
		n, _, _ = signals(chart(t, m, analyse.ChartMovingRange, "study-length"))
		ranges += n
	}
	t.Logf("false alarms in %d steady years: %d of complete studies, %d of items met; %d of %d study lengths beyond limits, %d moving ranges", seeds, complete, items, first, studies, ranges)
	// 0.05 + 0.05 + 0.14 a year and some for counts that are few; 200 years.
	for name, n := range map[string]int{"complete studies": complete, "items met": items} {
		if n > 200*35/100 || n < 200*5/100 {
			t.Errorf("%s: %d false alarms in 200 steady years, expected about 48", name, n)
		}
	}
	// Each year has ten charts of single items, of ten studies a week of which 93 % meet
	// it. Only too few can signal, by the binomial distribution 52 × 0.00135 = 0.07
	// times at most; runs are judged in few charts, since most weeks lie on the median.
	t.Logf("of single items: %d in 2000 charts", single)
	if single > 2000*17/100 || single < 2000*1/100 {
		t.Errorf("single items: %d false alarms in 2000 charts of a steady year", single)
	}
	if rate := float64(first) / float64(studies); rate > 0.0040 || rate < 0.0018 {
		t.Errorf("study length beyond three sigma: %.4f, expected 0.0027", rate)
	}
	// Beyond 3.267 times the mean range, a difference of two normal values is as often
	// as 3.267·1.128/√2 = 2.606 standard deviations: 0.0092.
	if rate := float64(ranges) / float64(studies); rate > 0.0115 || rate < 0.007 {
		t.Errorf("moving range beyond its limit: %.4f, expected 0.0092", rate)
	}
}

// Planted: from week 32 on far more studies are complete, and in week 20 hardly any
// is; studies take longer from week 40 on.
func TestPlantedSignals(t *testing.T) {
	found, week, longer := 0, 0, 0
	const seeds = 40
	for seed := range uint64(seeds) {
		rng := rand.New(rand.NewPCG(seed, 12))
		met := func(w int) float64 {
			switch {
			case w == 20:
				return .55
			case w >= 32:
				return .99
			}
			return .93
		}
		length := func(w int) float64 {
			if w >= 40 {
				return 700
			}
			return 600
		}
		m := of(year(rng, 52, 12, met, length), Options{})
		c := chart(t, m, analyse.ChartP, "complete-studies")
		if slices.Contains(c.Points[20].Signals, "beyond-limits") {
			week++
		}
		_, _, labels := signals(c)
		if slices.ContainsFunc(c.Points, func(p analyse.ChartPoint) bool {
			return slices.Contains(p.Signals, "long-run") || slices.Contains(p.Signals, "few-crossings")
		}) && len(labels) > 0 {
			found++
		}
		x := chart(t, m, analyse.ChartIndividuals, "study-length")
		for _, p := range x.Points[40*12:] {
			if slices.Contains(p.Signals, "eight-in-a-row") {
				longer++
				break
			}
		}
	}
	if found != seeds || week < seeds*9/10 || longer != seeds {
		t.Errorf("of %d years with an improvement, a bad week and longer studies: %d, %d and %d found", seeds, found, week, longer)
	}
}

// The counts by hand: three studies, of which one is complete, one is not, and one
// cannot be judged.
func TestRates(t *testing.T) {
	a, b, c := studyAt("a", start), studyAt("b", start.AddDate(0, 0, 1)), studyAt("c", start.AddDate(0, 1, 0))
	a.Items = []*analyse.ItemResult{item("x", analyse.Met), item("y", analyse.NotAssessable)}
	b.Items = []*analyse.ItemResult{item("x", analyse.Partial), item("y", analyse.Met), {Protocol: protocolName, Item: "z", Status: analyse.Missing}}
	c.Items = []*analyse.ItemResult{item("x", analyse.NotAssessable), item("y", analyse.NotApplicable)}
	b.Operators = []string{"QUILL^Ann; Reed^Bo"}
	c.Header = &ingest.Study{}
	c.Devices[0].Station = "WARD-B"
	m := of([]*analyse.Study{a, b, c}, Options{})
	got := map[string]string{}
	for _, r := range m.Rates {
		got[fmt.Sprint(r.By, " ", r.Of, " ", r.Item, r.Operator, r.Unit, r.Period)] = fmt.Sprint(r.Numerator, "/", r.Denominator, " ", r.NotAssessable)
		if !r.Small || r.Denominator == 0 && r.Value.Set {
			t.Errorf("%+v", r)
		}
	}
	for name, want := range map[string]string{
		"protocol complete-studies ":          "1/2 1",
		"protocol items-met ":                 "2/3 2",
		"item item-met x":                     "1/2 1",
		"item item-met y":                     "1/1 1",
		"operator complete-studies Quill^Ann": "1/2 1",
		"operator complete-studies Reed^Bo":   "0/1 0",
		"unit complete-studies NICU":          "1/2 0",
		"unit complete-studies WARD-B":        "0/0 1",
		"month complete-studies 2026-01":      "1/2 0",
		"week complete-studies 2026-W02":      "1/2 0",
		"week items-met 2026-W06":             "0/0 1",
		"month item-met x2026-02":             "0/0 1",
	} {
		if got[name] != want {
			t.Errorf("%s: %s, want %s", name, got[name], want)
		}
	}
	if _, optional := got["item item-met z"]; optional {
		t.Error("an item that is not required has a rate")
	}
	for _, c := range m.Charts {
		if c.Note == "" || slices.ContainsFunc(c.Points, func(p analyse.ChartPoint) bool { return p.Centre.Set || len(p.Signals) > 0 }) {
			t.Errorf("a chart of a few points has limits, or does not say why not: %+v", c)
		}
	}
	if d := m.Differences[0]; d.NowIs != "2026-02" || d.BeforeIs != "2026-01" || d.Value.Set || d.Note == "" {
		t.Errorf("%+v", d)
	}
}

// TestMonthsInARow: a study that a wrong clock dates a year later makes no month to
// compare with.
func TestMonthsInARow(t *testing.T) {
	first, second, late := studyAt("a", start), studyAt("b", start.AddDate(0, 1, 0)), studyAt("d", start.AddDate(1, 1, 0))
	for _, s := range []*analyse.Study{first, second, late} {
		s.Items = []*analyse.ItemResult{item("x", analyse.Met)}
	}
	m := of([]*analyse.Study{first, second, late}, Options{})
	if len(m.Differences) == 0 || m.Differences[0].NowIs != "2026-02" || m.Differences[0].BeforeIs != "2026-01" {
		t.Errorf("%+v", m.Differences)
	}
	if m := of([]*analyse.Study{first, late}, Options{}); len(m.Differences) != 0 {
		t.Errorf("%+v", m.Differences)
	}
}

// A study without a time is a gap: no moving range next to it.
func TestGap(t *testing.T) {
	studies := year(rand.New(rand.NewPCG(1, 1)), 3, 5, always(1), always(600))
	studies[7].DurationS = ingest.Optional[float64]{}
	m := of(studies, Options{})
	ranges := chart(t, m, analyse.ChartMovingRange, "study-length")
	for i, p := range ranges.Points {
		if p.Value.Set != (i != 0 && i != 7 && i != 8) {
			t.Errorf("point %d: %+v", i, p)
		}
	}
	if c := chart(t, m, analyse.ChartP, "complete-studies"); c.Note == "" {
		t.Error("three weeks have limits")
	}
}

// earlierOf turns studies into what an earlier audit's tables say.
func earlierOf(name string, studies []*analyse.Study) *ingest.EarlierAudit {
	a := &ingest.EarlierAudit{Dir: name}
	for _, s := range studies {
		e := ingest.EarlierStudy{UID: s.UID, Start: s.Start, DurationS: s.DurationS}
		for _, it := range s.Items {
			e.Items = append(e.Items, ingest.EarlierItem{Protocol: it.Protocol, Item: it.Item, Status: string(it.Status), Required: it.Required})
		}
		a.Studies = append(a.Studies, e)
	}
	return a
}

// Earlier audits give the limits; a study in two audits counts once; the difference is
// to the latest. It is the same whatever order they are named in.
func TestEarlier(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 5))
	all := year(rng, 24, 6, func(w int) float64 {
		if w >= 20 {
			return .999
		}
		return .9
	}, always(600))
	first, second := earlierOf("first", all[:60]), earlierOf("second", all[54:124])
	now := all[120:]
	m := of(now, Options{Earlier: []*ingest.EarlierAudit{second, first}})
	if got := fmt.Sprint(m.Earlier); got != "[{first 60 6 false} {second 70 4 true}]" {
		t.Error(got)
	}
	c := chart(t, m, analyse.ChartP, "complete-studies")
	if len(c.Points) != 24 || !c.Points[0].Baseline || c.Points[20].Baseline || !c.Points[20].Centre.Set {
		t.Errorf("%+v", c.Points)
	}
	d := m.Differences[0]
	if d.BeforeIs != "second" || d.NowIs != analyse.ThisAudit || d.Now.Denominator != 24 || d.Before.Denominator != 66 || d.Direction() != "better" {
		t.Errorf("%+v", d)
	}
	total := 0
	for _, r := range m.Rates {
		if r.By == analyse.ByWeek && r.Of == analyse.CompleteStudies {
			total += r.Denominator
		}
	}
	if total != len(all) {
		t.Errorf("%d studies by week, want each of %d once", total, len(all))
	}
	again := of(now, Options{Earlier: []*ingest.EarlierAudit{first, second}})
	if fmt.Sprintf("%+v", again.Differences) != fmt.Sprintf("%+v", m.Differences) {
		t.Error("the order of the audits matters")
	}
}

// The items of an earlier audit do not tell how few its studies were.
func TestEarlierSuppression(t *testing.T) {
	all := year(rand.New(rand.NewPCG(5, 5)), 12, 6, always(.4), always(600))
	earlier := []*ingest.EarlierAudit{earlierOf("few", all[:3])}
	open := of(all[3:], Options{Earlier: earlier}).Differences
	if b := open[1].Before; open[1].Of != analyse.ItemsMet || b.Numerator < 5 || b.Denominator-b.Numerator < 5 {
		t.Fatalf("the items are few themselves: %+v", open[1])
	}
	for _, d := range of(all[3:], Options{Earlier: earlier, MinCell: 5}).Differences {
		if !d.Before.Suppressed || d.Before.Denominator != 0 {
			t.Errorf("%s %s shows %d of %d", d.Of, d.Item, d.Before.Numerator, d.Before.Denominator)
		}
	}
}

// An earlier audit of which every study is read again, as in an archive that only
// grows, leaves the difference to the months.
func TestEarlierWithin(t *testing.T) {
	all := year(rand.New(rand.NewPCG(5, 5)), 12, 6, always(.9), always(600))
	alone := of(all, Options{}).Differences
	got := of(all, Options{Earlier: []*ingest.EarlierAudit{earlierOf("within", all[:30])}}).Differences
	if len(alone) == 0 || fmt.Sprintf("%+v", got) != fmt.Sprintf("%+v", alone) {
		t.Errorf("got %+v, want %+v", got, alone)
	}
}

// No rate below the least cell is shown, nor one that sums give away.
func TestSuppression(t *testing.T) {
	const least = 5
	limited, told := 0, 0
	for seed := range uint64(60) {
		rng := rand.New(rand.NewPCG(seed, 3))
		studies := year(rng, 9+rng.IntN(12), 4+rng.IntN(12), always(.6+.4*rng.Float64()), always(600))
		for _, s := range studies {
			s.Device = fmt.Sprint("device ", rng.IntN(3)*rng.IntN(3))
			s.Header = &ingest.Study{Department: fmt.Sprint("unit ", rng.IntN(2)*rng.IntN(4))}
		}
		whole := of(studies, Options{})
		m := of(studies, Options{MinCell: least})
		if len(m.Rates) != len(whole.Rates) {
			t.Fatal("rows are lost")
		}
		hidden := 0
		for i, r := range m.Rates {
			if r.Suppressed {
				hidden++
				if r.Numerator != 0 || r.Denominator != 0 || r.Value.Set || r.NotAssessable != 0 {
					t.Errorf("%+v", r)
				}
				continue
			}
			if r.Numerator != whole.Rates[i].Numerator {
				t.Errorf("a count is changed: %+v", r)
			}
			for _, n := range []int{r.Numerator, r.Denominator, r.Denominator - r.Numerator, r.NotAssessable} {
				if n > 0 && n < least {
					t.Errorf("seed %d: %+v shows %d", seed, r, n)
				}
			}
		}
		attack(t, seed, m, whole, least)
		told += divide(t, seed, m, whole)
		if (hidden > 0) != (m.Suppressed > 0) {
			t.Errorf("%d hidden, and it says %d", hidden, m.Suppressed)
		}
		for _, c := range m.Charts {
			if c.Kind != analyse.ChartP {
				t.Errorf("a chart of single studies: %s", c.Subject)
			}
			for _, p := range c.Points {
				for _, n := range []int{p.Numerator, p.Denominator, p.Denominator - p.Numerator} {
					if n > 0 && n < least {
						t.Errorf("seed %d: %+v", seed, p)
					}
				}
			}
			if limitsOfShown(t, seed, c) {
				limited++
			}
		}
	}
	if limited == 0 {
		t.Error("no chart has limits and a week that is hidden")
	}
	if told == 0 {
		t.Error("no items met are shown anywhere")
	}
}

// limitsOfShown wants the centre of a chart to be that of the points it shows, so that
// it tells nothing of the others; true where there is something to tell.
func limitsOfShown(t *testing.T, seed uint64, c analyse.Chart) bool {
	t.Helper()
	met, all, hidden := 0, 0, false
	for _, p := range c.Points {
		met, all, hidden = met+p.Numerator, all+p.Denominator, hidden || p.Note == "suppressed"
	}
	limits := false
	for _, p := range c.Points {
		if v, ok := p.Centre.Get(); ok {
			limits = true
			if math.Abs(v-float64(met)/float64(all)) > 1e-12 {
				t.Errorf("seed %d: %s: the centre %v is not that of the weeks shown, %d of %d", seed, c.Subject, v, met, all)
			}
		}
	}
	return limits && hidden
}

// attack solves, as a reader could, for hidden rates: what is hidden in a group of
// which the whole is shown. One alone, or several that add up to a small cell, is a
// leak. It knows nothing of the sums that the suppression goes by.
func attack(t *testing.T, seed uint64, m, whole analyse.Month, least int) {
	t.Helper()
	total := map[analyse.RateOf]*analyse.GroupRate{}
	for i := range m.Rates {
		if r := &m.Rates[i]; r.By == analyse.ByProtocol {
			total[r.Of] = r
		}
	}
	for _, by := range []analyse.RateBy{analyse.ByDevice, analyse.ByUnit, analyse.ByItem, analyse.ByMonth, analyse.ByWeek} {
		for _, of := range []analyse.RateOf{analyse.CompleteStudies, analyse.ItemsMet} {
			if by == analyse.ByItem && of == analyse.CompleteStudies || total[of].Suppressed {
				continue
			}
			unknown, met, all := 0, total[of].Numerator, total[of].Denominator
			for i := range m.Rates {
				r := &m.Rates[i]
				if r.By != by || (by == analyse.ByItem) != (r.Of == analyse.ItemMet) || by != analyse.ByItem && r.Of != of {
					continue
				}
				if r.Suppressed {
					unknown++
				}
				met, all = met-r.Numerator, all-r.Denominator
			}
			if unknown == 1 {
				t.Errorf("seed %d: by %s, %s: one hidden rate is %d of %d", seed, by, of, met, all)
			}
			for _, n := range []int{met, all, all - met} {
				if n > 0 && n < least {
					t.Errorf("seed %d: by %s, %s: hidden rates add up to %d of %d", seed, by, of, met, all)
				}
			}
		}
	}
}

// divide reads hidden counts of studies off their items, as a reader could who knows
// how many items a protocol asks for: the items of a group over those of one study are
// its studies, and where all items are met, all are complete. It returns how many groups
// show their items.
func divide(t *testing.T, seed uint64, m, whole analyse.Month) (shown int) {
	t.Helper()
	for i := 1; i < len(m.Rates); i++ {
		studies, items := m.Rates[i-1], m.Rates[i]
		if items.Of != analyse.ItemsMet || items.Suppressed || items.Denominator == 0 {
			continue
		}
		shown++
		if of := whole.Rates[i-1].Denominator; studies.Suppressed {
			t.Errorf("seed %d: %s %s: %d of %d items are shown, and tell of %d studies that are not", seed, items.By, items.Period, items.Numerator, items.Denominator, of)
		}
	}
	return shown
}

func TestEmpty(t *testing.T) {
	m := of(nil, Options{MinCell: 3})
	if len(m.Rates)+len(m.Charts)+len(m.Differences) > 0 {
		t.Errorf("%+v", m)
	}
	undated := studyAt("a", time.Time{})
	undated.Items = []*analyse.ItemResult{item("x", analyse.Met)}
	m = of([]*analyse.Study{undated}, Options{})
	if m.Undated != 1 || len(m.Charts) != 0 || len(m.Rates) == 0 {
		t.Errorf("%+v", m)
	}
	for _, r := range m.Rates {
		if math.IsNaN(r.Value.Value) || r.Period != "" {
			t.Errorf("%+v", r)
		}
	}
}
