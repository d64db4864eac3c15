package rebuild

import (
	"fmt"
	"math"
	"slices"

	"leadline/analyse"
	"leadline/analyse/physical"
	"leadline/ingest"
	"leadline/ingest/dcm"
)

// clock tells when the frames of a clip were taken.
type clock struct {
	// source names the attribute in words.
	source string
	// periodS is the time from a frame to the next, the mean where steps differ.
	periodS float64
	// periodMS or rateHz is the number that the period was made of, where it is one.
	periodMS, rateHz float64
	// stepsMS holds the increment before each frame where the clip gives one each;
	// the first is not used.
	stepsMS []float64
	// relativeU is the relative standard uncertainty of the period itself.
	relativeU float64
	notes     notes
}

// clockOf chooses the frame timing of a clip, in order of trust (PS3.3 C.7.6.5.1
// for the first two, the rest follows from the definitions):
//
//  1. what Frame Increment Pointer names: Frame Time Vector with one element a
//     frame and none negative, or Frame Time above 0;
//  2. the other of the two;
//  3. Cine Rate, an integer: rounding leaves it uncertain by half a frame a second.
//
// Actual Frame Duration is time spent acquiring and Recommended Display Frame Rate
// a wish; neither is used. It is false where the clip has no usable timing.
func clockOf(img *ingest.Image) (clock, bool) {
	t := &img.Timing
	var c clock
	if img.Frames < 2 {
		return c, false
	}
	vector := slices.Contains(t.IncrementPointer, dcm.FrameTimeVector)
	constant := slices.Contains(t.IncrementPointer, dcm.FrameTime)
	if !vector && !constant {
		c.notes.add("the clip does not say which attribute orders its frames")
	}
	steps := []func(*ingest.Image) bool{c.byVector, c.byFrameTime, c.byCineRate}
	if constant && !vector {
		steps[0], steps[1] = steps[1], steps[0]
	}
	for _, step := range steps {
		if step(img) && c.periodS > 0 {
			c.crossCheck(img)
			return c, true
		}
	}
	return c, false
}

func (c *clock) byVector(img *ingest.Image) bool {
	v := img.Timing.FrameTimeVectorMS
	if len(v) == 0 {
		return false
	}
	if len(v) != img.Frames {
		c.notes.add(fmt.Sprintf("Frame Time Vector has %s for %d frames: not used", analyse.Counted(len(v), "element", "elements"), img.Frames))
		return false
	}
	sum := 0.0
	for _, step := range v[1:] {
		if !(step >= 0) || math.IsInf(step, 0) {
			c.notes.add("Frame Time Vector has a step that is negative or no number: not used")
			return false
		}
		sum += step
	}
	if sum <= 0 || math.IsInf(sum, 0) {
		return false
	}
	if v[0] != 0 {
		c.notes.add("the first element of Frame Time Vector is not 0; it is before the first frame and counts for nothing")
	}
	c.source, c.stepsMS, c.periodS = "Frame Time Vector", v, sum/1000/float64(img.Frames-1)
	return true
}

func (c *clock) byFrameTime(img *ingest.Image) bool {
	ms := img.Timing.FrameTimeMS
	if !ms.Set || !(ms.Value > 0) || math.IsInf(ms.Value, 0) {
		return false
	}
	c.source, c.periodS, c.periodMS = "Frame Time", ms.Value/1000, ms.Value
	return true
}

func (c *clock) byCineRate(img *ingest.Image) bool {
	hz := img.Timing.CineRateHz
	if !hz.Set || !(hz.Value > 0) || math.IsInf(hz.Value, 0) {
		return false
	}
	c.source, c.periodS, c.rateHz = "Cine Rate", 1/hz.Value, hz.Value
	c.relativeU = 0.5 / math.Sqrt(3) / hz.Value
	c.notes.add("timed by Cine Rate, which is a whole number of frames a second")
	return true
}

// crossCheck holds the length of the clip against Effective Duration, by a frame.
func (c *clock) crossCheck(img *ingest.Image) {
	said := img.Timing.EffectiveDurationS
	length := c.periodS * float64(img.Frames)
	if said.Set && said.Value > 0 && math.Abs(said.Value-length) > 1.5*c.periodS {
		c.notes.add(fmt.Sprintf("Effective Duration says %.4g s, %s %.4g s", said.Value, c.source, length))
	}
}

// ClipTiming is the frame rate and the length of a clip, from first frame to the
// end of the last: frames × period, with the mean period where steps differ. source
// names the attribute used; notes say what was not usable. Absent for stills and
// clips without usable timing.
func ClipTiming(img *ingest.Image) (rateHz, durationS ingest.Optional[float64], source string, remarks []string) {
	c, ok := clockOf(img)
	rate, length := 1/c.periodS, c.periodS*float64(img.Frames)
	if !ok || math.IsInf(rate, 0) || math.IsInf(length, 0) {
		return rateHz, durationS, "", c.notes
	}
	return ingest.Some(rate), ingest.Some(length), c.source, c.notes
}

// interval rebuilds the time between two frames. Each end is somewhere within its
// frame period T, a rectangular distribution of full width T, so u² = (T₁² + T₂²)/12
// (JCGM 100:2008 4.3.7), T/√6 where both are alike; the uncertainty of the period
// itself is added.
func (c *caliper) interval(img *analyse.Image) ([]outcome, *failure) {
	if frame := beyondFrames(c.m.Frames, img.Image); frame > 0 {
		return nil, failed(ReasonOutsideImage, fmt.Sprintf("frame %d of a clip of %d", frame, img.Image.Frames))
	}
	if len(c.m.Frames) != 2 {
		return nil, failed(ReasonDegenerate, fmt.Sprintf("an interval needs two frames, not %d", len(c.m.Frames)))
	}
	first, last := ends(c.m.Frames)
	if first == last {
		return nil, failed(ReasonDegenerate, "both ends of the interval are the same frame")
	}
	clock, ok := clockOf(img.Image)
	if !ok {
		return nil, failed(ReasonUncalibrated, "the clip has no usable frame timing")
	}
	var work *physical.Work
	if c.explain {
		work = &physical.Work{}
	}
	value := clock.between(first, last, work)
	if math.IsInf(value.Value, 0) || math.IsInf(value.StdU, 0) {
		return nil, failed(ReasonUncalibrated, "the frame timing of the clip is out of range")
	}
	o := outcome{image: img.SOPInstanceUID, source: analyse.CalibrationTiming, quantity: analyse.Duration, value: value, work: work, img: img, timedBy: clock.source}
	if c.contributes() {
		o.contributions = clock.contributions(first, last)
	}
	if work != nil {
		explainScale(work, value, value, &analyse.UncertaintyRule{}, analyse.ScaleU{}, powers{})
	}
	o.notes.add("timed by " + clock.source)
	for _, n := range clock.notes {
		o.notes.add(n)
	}
	return []outcome{o}, nil
}

// ends are two frames in order.
func ends(frames []int) (first, last int) {
	return min(frames[0], frames[1]), max(frames[0], frames[1])
}

// between is the time from frame first to frame last, counted from 1. Its steps go
// to work where it is not nil.
func (c *clock) between(first, last int, work *physical.Work) physical.Quantity {
	seconds := c.periodS * float64(last-first)
	a, b := c.lasts(first), c.lasts(last)
	if c.stepsMS != nil {
		seconds = 0
		for _, step := range c.stepsMS[first:last] {
			seconds += step / 1000
		}
	}
	variance := (a*a+b*b)/12 + math.Pow(seconds*c.relativeU, 2)
	q := physical.Quantity{Value: seconds, StdU: math.Sqrt(variance), Unit: physical.S}
	if work != nil {
		c.explain(work, first, last, q, a, b)
	}
	return q
}

// lasts is how long a frame lasts, in s: the step after it. The last frame has only
// the step before it.
func (c *clock) lasts(frame int) float64 {
	if c.stepsMS == nil {
		return c.periodS
	}
	return c.stepsMS[min(frame, len(c.stepsMS)-1)] / 1000
}

// contributions are those of an interval: each frame stands as a point whose x is
// its number, the period itself as one at 0, since frames count from 1.
func (c *clock) contributions(first, last int) []physical.Contribution {
	at := func(frame int, u float64) physical.Contribution {
		return physical.Contribution{Point: ingest.Point{X: float64(frame)}, X: u}
	}
	list := []physical.Contribution{at(first, -c.lasts(first)/math.Sqrt(12)), at(last, c.lasts(last)/math.Sqrt(12))}
	if c.relativeU > 0 {
		list = append(list, at(0, c.between(first, last, nil).Value*c.relativeU))
	}
	return list
}

// explain writes an interval down; a and b are how long its two frames last.
func (c *clock) explain(w *physical.Work, first, last int, q physical.Quantity, a, b float64) {
	if c.stepsMS == nil {
		if c.rateHz > 0 {
			w.Add(physical.PartScale, "frame period, from "+c.source, physical.S, c.periodS, "1 / %v", c.rateHz)
		} else {
			w.Add(physical.PartScale, "frame period, from "+c.source, physical.S, c.periodS, "%v / 1000", c.periodMS)
		}
		w.Add(physical.PartValue, "interval", physical.S, q.Value, "(%v - %v) * %v", float64(last), float64(first), c.periodS)
	} else {
		steps := c.stepsMS[first:last]
		w.Add(physical.PartValue, "interval, by "+c.source, physical.S, q.Value, "("+physical.Plus(len(steps), "%v")+") / 1000", steps...)
		w.Add(physical.PartUncertainty, "first frame lasts", physical.S, a, "%v / 1000", c.stepsMS[first])
		w.Add(physical.PartUncertainty, "last frame lasts", physical.S, b, "%v / 1000", c.stepsMS[min(last, len(c.stepsMS)-1)])
	}
	if c.relativeU == 0 {
		w.Add(physical.PartUncertainty, "u of the two frames", physical.S, q.StdU, "sqrt((%v^2 + %v^2) / 12)", a, b)
		return
	}
	w.Add(physical.PartUncertainty, "relative u of the period", physical.One, c.relativeU, "0.5 / sqrt(3) / %v", c.rateHz)
	w.Add(physical.PartUncertainty, "u", physical.S, q.StdU, "sqrt((%v^2 + %v^2) / 12 + (%v * %v)^2)", a, b, q.Value, c.relativeU)
}
