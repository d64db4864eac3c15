package clocks

import (
	"fmt"
	"math"
	"slices"

	"leadline/analyse"
	"leadline/analyse/stats"
	"leadline/ingest"
)

// step is a jump of the difference between two studies.
type step struct {
	seconds  float64
	from, to *analyse.Study
}

const (
	// hourS is the step of daylight saving, hourTolerance what it may be off, so that
	// the waits of people before and after may differ.
	hourS, hourTolerance = 3600.0, 300.0
	// widestSpread is the most that differences may scatter for a step to be told.
	widestSpread = 600.0
	// fewestBeside are the studies needed on each side of a step.
	fewestBeside = 3
)

// window is how many studies on each side of a place are looked at for a step.
const window = 6

// place is where a series may jump.
type place struct {
	// at is the index of the first study behind the jump.
	at int
	// seconds is the median after less the median before; rest is how much the
	// differences scatter about both.
	seconds, rest float64
}

// told tells that there are studies enough on both sides of a series of n.
func (p place) told(n int) bool { return p.at >= fewestBeside && p.at <= n-fewestBeside }

// placesOf finds where the medians of the studies before and after are an hour apart, of
// neighbouring places the one that parts them best. It looks closer to the ends than a
// jump can be told: a jump there would else be found beside its place, where it seems to
// have studies enough.
func placesOf(seconds []float64) []place {
	var places []place
	last, n := -1, len(seconds)
	for i := 1; i < n; i++ {
		before, after := seconds[max(0, i-window):i], seconds[i:min(n, i+window)]
		a, _ := middle(before)
		b, _ := middle(after)
		if math.Abs(math.Abs(b-a)-hourS) > hourTolerance {
			continue
		}
		p := place{i, b - a, deviation(before) + deviation(after)}
		switch best := len(places) - 1; {
		case i != last+1:
			places = append(places, p)
		case p.rest < places[best].rest:
			places[best] = p
		}
		last = i
	}
	return places
}

// stepsOf finds jumps by an hour with studies enough on both sides. All that lies between
// jumps must scatter little: where differences come from people, two of them are an hour
// apart by chance.
func stepsOf(all series) []step {
	var steps []step
	first := 0
	for _, p := range placesOf(all.seconds) {
		if !p.told(len(all.seconds)) {
			continue
		}
		if !even(all.seconds[first:p.at]) {
			return nil
		}
		steps, first = append(steps, step{p.seconds, all.studies[p.at-1], all.studies[p.at]}), p.at
	}
	if !even(all.seconds[first:]) {
		return nil
	}
	return steps
}

// untold tells that a series jumps by an hour so near to one of its ends that chance may
// do it.
func untold(seconds []float64) bool {
	return slices.ContainsFunc(placesOf(seconds), func(p place) bool { return !p.told(len(seconds)) })
}

// even tells that differences scatter little enough for a step to be told.
func even(values []float64) bool {
	spread, _ := stats.Spread(values)
	return spread <= widestSpread
}

func deviation(values []float64) float64 {
	m, _ := middle(values)
	sum := 0.0
	for _, v := range values {
		sum += math.Abs(v - m)
	}
	return sum
}

// hourStep asks whether the difference jumps by an hour: one of the two clocks was
// changed for daylight saving and the other was not.
func hourStep(src source, all series, steps []step) analyse.ClockFact {
	f := analyse.ClockFact{Aspect: analyse.AspectStep, Against: src.id, Unit: "s", N: len(all.seconds)}
	spread, _ := stats.Spread(all.seconds)
	switch {
	case len(steps) > 0:
		s := steps[0]
		f.Verdict, f.Value, f.From, f.To = analyse.ClockLook, ingest.Some(s.seconds), s.from.UID, s.to.UID
		f.Evidence = fmt.Sprintf("against %s the clock %s by %s between two studies%s: daylight saving was followed by one of the two only; %s",
			src.words, direction(s.seconds), length(s.seconds), more(len(steps)), zonesBeside(s))
	case f.N < 2*fewestBeside:
		f.Verdict, f.Evidence = analyse.ClockUnknown, fmt.Sprintf("%s, %d needed on each side of a step", studiesOf(f.N), fewestBeside)
	case spread > widestSpread:
		f.Verdict, f.Evidence = analyse.ClockUnknown, fmt.Sprintf("differences against %s scatter by %s: a step of an hour may hide", src.words, length(spread))
	case untold(all.seconds):
		f.Verdict, f.Evidence = analyse.ClockUnknown, fmt.Sprintf("the first or last studies lie an hour off against %s: a step, or chance; %d studies are needed on each side", src.words, fewestBeside)
	default:
		f.Verdict, f.Value, f.Evidence = analyse.ClockSteady, ingest.Some(0.0), fmt.Sprintf("no jump by an hour against %s", src.words)
	}
	return f
}

func more(steps int) string {
	if steps < 2 {
		return ""
	}
	return fmt.Sprintf(", the first of %d such jumps", steps)
}

func direction(seconds float64) string {
	if seconds > 0 {
		return "falls back" // the other clock, less this one, grows
	}
	return "goes forward"
}

// zonesBeside says what the files state of their zone on both sides of a step.
func zonesBeside(s step) string {
	before, after := s.from.Timing.Zone, s.to.Timing.Zone
	switch {
	case before == "" && after == "":
		return "no zone is stated"
	case before == after:
		return "the stated zone stays " + before
	}
	return fmt.Sprintf("the stated zone is %s before and %s after", orNone(before), orNone(after))
}

func orNone(zone string) string {
	if zone == "" {
		return "none"
	}
	return zone
}
