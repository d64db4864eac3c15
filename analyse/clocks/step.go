package clocks

import (
	"fmt"
	"math"

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

// stepsOf finds jumps by an hour: places where the medians of the studies before and
// after are an hour apart, of neighbouring places the one that parts them best. All
// that lies between jumps must scatter little: where differences come from people,
// two of them are an hour apart by chance.
func stepsOf(all series) []step {
	var steps []step
	last, best := 0, math.Inf(1)
	n := len(all.seconds)
	first := 0
	for i := fewestBeside; i <= n-fewestBeside; i++ {
		before, after := all.seconds[max(0, i-window):i], all.seconds[i:min(n, i+window)]
		a, _ := middle(before)
		b, _ := middle(after)
		if math.Abs(math.Abs(b-a)-hourS) > hourTolerance {
			continue
		}
		cost, found := deviation(before)+deviation(after), step{b - a, all.studies[i-1], all.studies[i]}
		switch {
		case len(steps) > 0 && i == last+1 && cost < best:
			steps[len(steps)-1], best, first = found, cost, i
		case len(steps) == 0 || i > last+1:
			if !even(all.seconds[first:i]) {
				return nil
			}
			steps, best, first = append(steps, found), cost, i
		}
		last = i
	}
	if !even(all.seconds[first:]) {
		return nil
	}
	return steps
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
