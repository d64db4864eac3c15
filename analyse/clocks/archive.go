package clocks

import (
	"fmt"
	"math"
	"slices"
	"time"

	"leadline/analyse"
	"leadline/analyse/stats"
	"leadline/ingest"
)

// source is something with a clock of its own, perhaps, against which the clock of a
// device can be held. No stamp says whose clock it was; how the differences lie tells.
type source struct {
	id, words string
	// of is that stamp less the device's, in seconds, for one study.
	of func(use) (seconds float64, ok bool)
	// What people and networks usually add lies between least and most, in seconds: it
	// is no sign of a wrong clock.
	least, most float64
}

// The bounds of what people and networks add; common practice, no source.
const (
	exportS = 60            // a file is made within a minute of its image
	waitS   = 30 * 60       // the first image comes within half an hour of the start
	reportS = 7 * 24 * 3600 // a report within a week
	minuteS = 60            // times cut to the minute
)

var sources = []source{
	{id: "file", words: "the making of its files (Instance Creation)", of: ofFile, least: -minuteS, most: exportS},
	{id: "study", words: "the start of its studies (Study Date and Time)", of: ofStudy, least: -waitS, most: minuteS},
	{id: "report", words: "reports of other devices", of: ofReport, least: 0, most: reportS},
}

// ofFile is the median over the images of Instance Creation less the time taken.
func ofFile(s use) (float64, bool) {
	var all []float64
	for _, img := range s.images {
		if at, timed := img.Taken(); timed && img.Created.HasTime {
			all = append(all, img.Created.After(at).Seconds())
		}
	}
	return middle(all)
}

// middle is the median; ok is false where there are no values.
func middle(values []float64) (m float64, ok bool) {
	if len(values) == 0 {
		return 0, false
	}
	return stats.Median(values), true
}

// ofStudy is the start of the study less the first image of the device, in studies
// that only this device made.
func ofStudy(s use) (float64, bool) {
	if len(s.images) != len(s.study.Images) || !s.study.Header.Start.HasTime {
		return 0, false
	}
	best, found := 0.0, false
	for _, img := range s.images {
		if at, timed := img.Taken(); timed {
			if d := s.study.Header.Start.After(at).Seconds(); !found || d > best {
				best, found = d, true
			}
		}
	}
	return best, found
}

// ofReport is the earliest report by another device less the last image.
func ofReport(s use) (float64, bool) {
	best, found := 0.0, false
	for _, r := range s.study.Reports {
		if analyse.DeviceName(r.Device) == analyse.DeviceName(s.images[0].Device) || !r.Content.HasTime || !s.study.Last.HasTime || r.Content.Zone != s.study.Last.Zone {
			continue
		}
		if d := r.Content.After(s.study.Last).Seconds(); !found || d < best {
			best, found = d, true
		}
	}
	return best, found
}

// series are the differences of one device against one source, in the order of its
// studies.
type series struct {
	seconds []float64
	days    []float64
	studies []*analyse.Study
}

func (u *unit) against(src source) series {
	var all series
	for _, s := range u.studies {
		if d, ok := src.of(s); ok && !s.study.Start.IsZero() {
			all.seconds = append(all.seconds, d)
			all.days = append(all.days, float64(s.study.Start.Reading().Unix())/86400)
			all.studies = append(all.studies, s.study)
		}
	}
	return all
}

// peersOf holds the medians of all devices against each source.
func peersOf(units []*unit) map[string][]peer {
	peers := map[string][]peer{}
	for _, src := range sources {
		for _, u := range units {
			all := u.against(src)
			if m, ok := middle(all.seconds); ok && len(all.seconds) >= fewestStudies {
				spread, _ := stats.Spread(all.seconds)
				peers[src.id] = append(peers[src.id], peer{u, m, spread, len(all.seconds)})
			}
		}
	}
	return peers
}

// peer is one device against one source.
type peer struct {
	unit           *unit
	median, spread float64
	n              int
}

// fewestStudies are needed to speak of a clock.
const fewestStudies = 5

// archive holds the clock against each source that the studies name.
func (u *unit) archive(peers map[string][]peer) []analyse.ClockFact {
	var facts []analyse.ClockFact
	for _, src := range sources {
		all := u.against(src)
		if len(all.seconds) == 0 {
			continue
		}
		steps := stepsOf(all)
		facts = append(facts, u.offset(src, all, steps, peers[src.id]))
		if src.id != "report" { // a report waits for people: hours and drifts do not show in it
			facts = append(facts, drift(src, all, steps), hourStep(src, all, steps))
		}
	}
	if len(facts) == 0 {
		facts = append(facts, analyse.ClockFact{Aspect: analyse.AspectOffset, Unit: "s", Verdict: analyse.ClockUnknown,
			Evidence: "no other stamp (creation of files, start of studies, reports of other devices) to hold the clock against"})
	}
	return facts
}

// offset tells how far the clock is off a source.
func (u *unit) offset(src source, all series, steps []step, peers []peer) analyse.ClockFact {
	n := len(all.seconds)
	f := analyse.ClockFact{Aspect: analyse.AspectOffset, Against: src.id, Unit: "s", N: n}
	median, _ := middle(all.seconds)
	f.Value = ingest.Some(median)
	spread, ok := stats.Spread(all.seconds)
	if ok {
		f.Spread = ingest.Some(spread)
	}
	apart, fromPeers := offPeers(u, peers)
	switch {
	case n < fewestStudies:
		f.Verdict, f.Evidence = analyse.ClockUnknown, fmt.Sprintf("%s, %d needed to tell a clock from chance", studiesOf(n), fewestStudies)
	case len(steps) > 0:
		f.Verdict, f.Evidence = analyse.ClockLook, "the difference jumps by an hour: see there"
	case median < src.least && clear(median-src.least, spread, n):
		f.Verdict, f.Evidence = analyse.ClockLook, aheadText(src, median)
	case median > src.most && spread <= exportS:
		f.Verdict, f.Evidence = analyse.ClockLook, fmt.Sprintf("the clock is %s behind %s, or these always come that much later: so even a delay is seldom one of people", length(median), src.words)
	case median > src.most && src.id == "study" && clear(median-src.most, spread, n):
		f.Verdict, f.Evidence = analyse.ClockLook, fmt.Sprintf("the first images are %s before %s: the clock is behind by at least that", length(median), src.words)
	case fromPeers && src.id != "report": // when reports are written is a habit of people
		f.Verdict, f.Evidence = analyse.ClockLook, fmt.Sprintf("%s from the median of the other devices, against %s: the clock is off, or this device is used in another way", length(apart), src.words)
	case median > src.most || src.id == "report":
		f.Verdict, f.Evidence = analyse.ClockUnknown, fmt.Sprintf("%s comes %s later, unevenly: delays of people and networks hide the clock", src.words, length(median))
	case src.id == "study":
		f.Verdict, f.Evidence = analyse.ClockSteady, fmt.Sprintf("first images follow %s by %s: no sign of another clock, or both are of one", src.words, length(-median))
	default:
		f.Verdict, f.Evidence = analyse.ClockSteady, fmt.Sprintf("%s follows by %s: no sign of another clock, or both are of one", src.words, length(median))
	}
	return f
}

func aheadText(src source, median float64) string {
	if src.id == "study" {
		return fmt.Sprintf("the first images come %s after %s: the clock is ahead, or studies are opened that long before", length(-median), src.words)
	}
	return fmt.Sprintf("%s lies %s before the images: the clock is ahead by at least that", src.words, length(-median))
}

// clearly is how many standard errors of a median a difference must be to be told:
// at 4, a steady clock is accused once in ten thousand (normal distribution).
const clearly = 4

// medianError is the standard error of a median over that of a mean, √(π/2).
const medianError = 1.2533141373155001

// leastSpread is taken where the values happen to be alike.
const leastSpread = 2.0

// clear tells that a difference is more than chance makes of a median of n values.
func clear(difference, spread float64, n int) bool {
	return math.Abs(difference) > clearly*medianError*max(spread, leastSpread)/math.Sqrt(float64(n))
}

// peersApart is what devices may differ by in how they are used; 24 minutes is the average
// error of the clocks of medical devices (Goldman 2012, quoted by the Pennsylvania Patient
// Safety Authority), and a third of it what is looked for at least.
const peersApart = 8 * 60

// offPeers is how far the median of a device lies from that of the others, and whether
// chance does not make it.
func offPeers(u *unit, peers []peer) (apart float64, ok bool) {
	var own *peer
	var medians, spreads []float64
	for i := range peers {
		if peers[i].unit == u {
			own = &peers[i]
			continue
		}
		medians, spreads = append(medians, peers[i].median), append(spreads, peers[i].spread)
	}
	if own == nil || len(medians) < 2 {
		return 0, false
	}
	centre := stats.Median(medians)
	between, _ := stats.Spread(medians)
	usual := stats.Median(spreads)
	apart = own.median - centre
	chance := clearly * medianError * max(own.spread, usual, leastSpread) / math.Sqrt(float64(own.n))
	return apart, math.Abs(apart) > peersApart && math.Abs(apart) > chance+clearly*between
}

// length writes seconds as a person would.
func length(seconds float64) string {
	d := time.Duration(math.Abs(seconds) * float64(time.Second))
	switch {
	case d >= 48*time.Hour:
		return fmt.Sprintf("%.1f days", d.Hours()/24)
	case d >= 2*time.Hour:
		return fmt.Sprintf("%.1f h", d.Hours())
	case d >= 2*time.Minute:
		return fmt.Sprintf("%.1f min", d.Minutes())
	}
	return fmt.Sprintf("%.0f s", d.Seconds())
}

// mostDrift is the drift of ordinary equipment that does no harm, in seconds a day
// (PS3.17 Annex R.6.2).
const mostDrift = 1.0

// normalMeanDeviation makes the mean absolute deviation of normal values their standard
// deviation, √(π/2).
const normalMeanDeviation = medianError

// fewestDays is the shortest time over which a drift is told.
const fewestDays = 14

// drift tells whether the difference grows from day to day.
func drift(src source, all series, steps []step) analyse.ClockFact {
	f := analyse.ClockFact{Aspect: analyse.AspectDrift, Against: src.id, Unit: "s/d", N: len(all.seconds)}
	slope, ok := stats.MedianSlope(all.days, all.seconds)
	span := 0.0
	if len(all.days) > 0 {
		span = slices.Max(all.days) - slices.Min(all.days)
	}
	switch {
	case len(steps) > 0:
		f.Verdict, f.Evidence = analyse.ClockUnknown, "a jump by an hour hides it"
		return f
	case !ok || f.N < fewestStudies || span < fewestDays:
		f.Verdict, f.Evidence = analyse.ClockUnknown, fmt.Sprintf("%s over %s: at least %d over %d are needed", studiesOf(f.N), analyse.Counted(int(math.Round(span)), "day", "days"), fewestStudies, fewestDays)
		return f
	}
	rest := make([]float64, len(all.seconds))
	for i := range rest {
		rest[i] = all.seconds[i] - slope*all.days[i]
	}
	spread, _ := stats.Spread(rest)
	// Waits of people are not normal; of both measures of scatter the wider one counts.
	spread = max(spread, normalMeanDeviation*deviation(rest)/float64(len(rest)))
	f.Value, f.Spread = ingest.Some(slope), ingest.Some(spread)
	switch {
	case math.Abs(slope) > mostDrift && clear(slope*span/2, spread, f.N/2):
		f.Verdict, f.Evidence = analyse.ClockLook, fmt.Sprintf("against %s the clock moves by %.1f s a day over %.0f days; 1 s a day does no harm", src.words, slope, span)
	case clear(mostDrift*span/2, spread, f.N/2):
		f.Verdict, f.Evidence = analyse.ClockSteady, fmt.Sprintf("no drift above 1 s a day against %s over %.0f days", src.words, span)
	default:
		f.Verdict, f.Evidence = analyse.ClockUnknown, fmt.Sprintf("differences against %s scatter by %s: a drift of 1 s a day would not show", src.words, length(spread))
	}
	return f
}
