// Package clocks asks what the headers of each device say of its clocks: whether the
// frames of its clips come at even intervals, whether frame times were rounded,
// whether images are in order, which zone they state, and how far the clock is off
// those of other systems. What the headers cannot tell is said to be so.
//
// It reads stamps of files only, so that a run tomorrow says the same.
package clocks

import (
	"cmp"
	"fmt"
	"slices"

	"leadline/analyse"
	"leadline/ingest"
)

// unit is what one device made: its images, by study.
type unit struct {
	device  *ingest.Device
	studies []use
}

// use is what a device made of one study.
type use struct {
	study  *analyse.Study
	images []*analyse.Image
}

// Of asks the questions of every device that made an ultrasound image; others of the
// archive are not of the job. Devices are told apart by maker, model and serial number,
// and are in the order of these; two of a model without serial numbers count as one.
func Of(studies []*analyse.Study) []analyse.DeviceClock {
	units := unitsOf(studies)
	peers := peersOf(units)
	clocks := make([]analyse.DeviceClock, len(units))
	for i, u := range units {
		clocks[i] = analyse.DeviceClock{Device: u.device, Studies: len(u.studies)}
		c := &clocks[i]
		for _, s := range u.studies {
			c.Images += len(s.images)
			for _, img := range s.images {
				if img.Kind == analyse.Clip {
					c.Clips++
				}
			}
		}
		c.Facts = append(c.Facts, u.frames(), u.rounding(), u.order(), u.zone())
		c.Facts = append(c.Facts, u.archive(peers)...)
	}
	return clocks
}

func unitsOf(studies []*analyse.Study) []*unit {
	byName := map[string]*unit{}
	var units []*unit
	for _, s := range studies {
		for _, img := range s.Images {
			if !img.Ultrasound() {
				continue
			}
			name := analyse.DeviceName(img.Device)
			u := byName[name]
			if u == nil {
				u = &unit{device: img.Device}
				byName[name], units = u, append(units, u)
			}
			if n := len(u.studies); n == 0 || u.studies[n-1].study != s {
				u.studies = append(u.studies, use{study: s})
			}
			last := &u.studies[len(u.studies)-1]
			last.images = append(last.images, img)
		}
	}
	slices.SortStableFunc(units, func(a, b *unit) int {
		return cmp.Compare(analyse.DeviceName(a.device), analyse.DeviceName(b.device))
	})
	return units
}

// clips are the clips of the device.
func (u *unit) clips() []*analyse.Image {
	var clips []*analyse.Image
	for _, s := range u.studies {
		for _, img := range s.images {
			if img.Kind == analyse.Clip {
				clips = append(clips, img)
			}
		}
	}
	return clips
}

// order counts the studies in which times go back while image numbers go on.
func (u *unit) order() analyse.ClockFact {
	f := analyse.ClockFact{Aspect: analyse.AspectOrder, Verdict: analyse.ClockSteady, Unit: "1"}
	back, timed := 0, 0
	for _, s := range u.studies {
		n, met := 0, false
		for _, img := range s.images {
			if _, ok := img.Taken(); ok {
				n++
			}
		}
		for _, step := range s.study.Timing.Back {
			met = met || analyse.DeviceName(step.Image.Device) == analyse.DeviceName(u.device)
		}
		if n > 1 {
			timed++
		}
		if met {
			back++
		}
	}
	f.N, f.Value = timed, ingest.Some(float64(back))
	switch {
	case timed == 0:
		f.Verdict, f.Value, f.Evidence = analyse.ClockUnknown, ingest.Optional[float64]{}, "no study with two images that say when they were taken"
	case back > 0:
		f.Verdict, f.Evidence = analyse.ClockLook, fmt.Sprintf("in %d of %s times go back by more than a minute while image numbers go on", back, studiesOf(timed))
	default:
		f.Evidence = fmt.Sprintf("in %s times go on with the image numbers", studiesOf(timed))
	}
	return f
}

func clipsOf(n int) string   { return analyse.Counted(n, "clip", "clips") }
func studiesOf(n int) string { return analyse.Counted(n, "study", "studies") }
