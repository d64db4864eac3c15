package clocks

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"leadline/analyse"
	"leadline/analyse/timing"
	"leadline/ingest"
)

// fleet is what a test says of one device: the truth that must come out.
type fleet struct {
	serial string
	// behind is how far the clock is behind the archive, drift how much it loses a day.
	behind, drift time.Duration
	// summer is the day from which the archive is in summer time and the device is not.
	summer int
	// zone is what the files state.
	zone *time.Duration
	// frameMS is what the clips state, trueMS what they took; 0 is no clip.
	frameMS, trueMS float64
	// created tells that another system writes Instance Creation, a few seconds later.
	created bool
}

var march = time.Date(2026, time.March, 1, 8, 0, 0, 0, time.UTC)

// studies generates so many studies of a device, one a day, of which images follow
// each other by a minute or so, the first one some minutes after the study began.
func (f fleet) studies(rng *rand.Rand, n int) []*analyse.Study {
	d := &ingest.Device{Manufacturer: "Invented", Model: "Probe", Serial: f.serial}
	var list []*analyse.Study
	for day := range n {
		truth := march.AddDate(0, 0, day).Add(time.Duration(rng.IntN(8*3600)) * time.Second)
		off := f.behind + time.Duration(float64(f.drift)*float64(day))
		if f.summer > 0 && day >= f.summer {
			off += time.Hour
		}
		s := &analyse.Study{UID: fmt.Sprintf("2.25.%s%d", f.serial, day), Header: &ingest.Study{Start: stamp(truth)}, Start: stamp(truth)}
		at := truth.Add(time.Duration(20+rng.IntN(280)) * time.Second)
		for i := range 5 {
			at = at.Add(time.Duration(15+rng.IntN(90)) * time.Second)
			taken := stamp(at.Add(-off))
			if f.zone != nil {
				taken.T, taken.Zone, taken.East = taken.T.Add(-*f.zone), true, *f.zone
			}
			s.Images = append(s.Images, f.image(d, i, taken, at, rng))
		}
		s.First, s.Last = s.Images[0].Acquired, s.Images[4].Acquired
		s.Reports = []*ingest.Instance{{Device: &ingest.Device{Model: "Reports"}, Content: stamp(at.Add(time.Duration(15+rng.IntN(300)) * time.Minute))}}
		s.Timing.Zone = map[bool]string{true: "+01:00"}[f.zone != nil]
		list = append(list, s)
	}
	return list
}

func (f fleet) image(d *ingest.Device, i int, taken ingest.Stamp, at time.Time, rng *rand.Rand) *analyse.Image {
	inst := &ingest.Instance{Device: d, Series: &ingest.Series{UID: "2.25.9"}, Acquisition: taken, Image: &ingest.Image{Frames: 1}, InstanceNumber: ingest.Some(int64(i))}
	if f.created {
		inst.Created = stamp(at.Add(time.Duration(rng.IntN(20)) * time.Second))
		if f.zone != nil {
			inst.Created = ingest.Stamp{T: inst.Created.T.Add(-*f.zone), HasTime: true, Zone: true, East: *f.zone}
		}
	}
	img := &analyse.Image{Instance: inst, Picture: &analyse.Picture{Kind: analyse.Still}, Acquired: taken}
	if i == 0 && f.frameMS > 0 {
		img.Kind, inst.Image.Frames = analyse.Clip, 50+rng.IntN(20)
		inst.Image.Timing = ingest.Timing{FrameTimeMS: ingest.Some(f.frameMS), EffectiveDurationS: ingest.Some(math.Round(float64(inst.Image.Frames)*f.trueMS) / 1000)}
		img.FrameRateHz = ingest.Some(1000 / f.frameMS)
	}
	return img
}

func stamp(t time.Time) ingest.Stamp { return ingest.Stamp{T: t, HasTime: true} }

// facts are the verdicts of a device by aspect and source.
func facts(t *testing.T, clocks []analyse.DeviceClock, serial string) map[string]analyse.ClockFact {
	t.Helper()
	found := map[string]analyse.ClockFact{}
	for _, c := range clocks {
		if c.Device.Serial != serial {
			continue
		}
		for _, f := range c.Facts {
			found[strings.TrimSuffix(string(f.Aspect)+" "+f.Against, " ")] = f
			if f.Evidence == "" || f.Verdict == "" {
				t.Errorf("%s: %+v says nothing", serial, f)
			}
		}
	}
	return found
}

// TestFleet plants one fault in each of several devices, over seeds, and wants each
// found with its size and nothing accused that is steady.
func TestFleet(t *testing.T) {
	winter := time.Hour
	devices := []fleet{
		{serial: "steady", created: true, frameMS: 33.333, trueMS: 33.333},
		{serial: "alone", zone: &winter, frameMS: 40, trueMS: 40},
		{serial: "behind", behind: 24 * time.Minute, created: true},
		{serial: "ahead", behind: -24 * time.Minute, created: true},
		{serial: "drifts", drift: 5 * time.Second, created: true},
		{serial: "summer", summer: 29, created: true, zone: &winter},
		{serial: "worklist", summer: 20},
		{serial: "rounds", created: true, frameMS: 33, trueMS: 33.333},
	}
	planted := map[string][]string{
		"behind":   {"archive-offset file", "archive-offset study"},
		"ahead":    {"archive-offset file", "archive-offset study"},
		"drifts":   {"archive-drift file", "archive-offset file", "archive-drift study", "archive-offset study"},
		"summer":   {"hour-step file", "archive-offset file", "hour-step study", "archive-offset study"},
		"worklist": {"hour-step study", "archive-offset study"},
		"rounds":   {"frame-time-rounding"},
	}
	wanted := map[string]string{
		"behind": "archive-offset file", "ahead": "archive-offset file", "drifts": "archive-drift file", "summer": "hour-step file",
		"worklist": "hour-step study", "rounds": "frame-time-rounding",
	}
	found, seeds := 0, 25
	for seed := range seeds {
		rng := rand.New(rand.NewPCG(uint64(seed), 7))
		var studies []*analyse.Study
		for _, d := range devices {
			studies = append(studies, d.studies(rng, 40)...)
		}
		for _, s := range studies {
			s.Timing.Back = timing.Of(withPatient(s)).Back
		}
		clocks := Of(studies)
		for _, d := range devices {
			its := facts(t, clocks, d.serial)
			for name, f := range its {
				expected := false
				for _, p := range planted[d.serial] {
					expected = expected || p == name
				}
				if f.Verdict == analyse.ClockLook && !expected {
					t.Errorf("seed %d: %s is accused of %s: %s", seed, d.serial, name, f.Evidence)
				}
			}
			if want := wanted[d.serial]; want != "" {
				if its[want].Verdict != analyse.ClockLook {
					t.Errorf("seed %d: %s: %s not found: %+v", seed, d.serial, want, its[want])
				} else {
					found++
				}
			}
		}
		near(t, facts(t, clocks, "behind")["archive-offset file"], 24*60, 20)
		near(t, facts(t, clocks, "ahead")["archive-offset file"], -24*60, 20)
		near(t, facts(t, clocks, "drifts")["archive-drift file"], 5, 0.3)
		near(t, facts(t, clocks, "summer")["hour-step file"], 3600, 20)
		near(t, facts(t, clocks, "worklist")["hour-step study"], 3600, 250)
		near(t, facts(t, clocks, "rounds")["frame-time-rounding"], 140*(33.333/33-1), 0.06) // the length is written to a millisecond
		if f := facts(t, clocks, "summer")["hour-step file"]; f.From != "2.25.summer28" || f.To != "2.25.summer29" || !strings.Contains(f.Evidence, "the stated zone stays +01:00") {
			t.Errorf("seed %d: the step lies between %s and %s: %s", seed, f.From, f.To, f.Evidence)
		}
		if f := facts(t, clocks, "alone")["archive-offset report"]; f.Verdict != analyse.ClockUnknown && f.Verdict != "" {
			t.Errorf("seed %d: reports tell of the clock: %+v", seed, f)
		}
	}
	t.Logf("%d of %d planted faults found over %d seeds", found, len(wanted)*seeds, seeds)
}

func withPatient(s *analyse.Study) *analyse.Study {
	reports := s.Reports
	s.Reports = nil
	c := *s
	s.Reports = reports
	return &c
}

func near(t *testing.T, f analyse.ClockFact, want, within float64) {
	t.Helper()
	if !f.Value.Set || math.Abs(f.Value.Value-want) > within {
		t.Errorf("%s %s is %v, want %v ± %v", f.Aspect, f.Against, f.Value, want, within)
	}
}

// TestTwoSteps finds both changes of a year.
func TestTwoSteps(t *testing.T) {
	var all series
	for i := range 300 {
		d := 5.0
		if i >= 80 && i < 210 {
			d += 3600
		}
		all.seconds, all.days = append(all.seconds, d+float64(i%5)), append(all.days, float64(i))
		all.studies = append(all.studies, &analyse.Study{UID: fmt.Sprint(i)})
	}
	steps := stepsOf(all)
	if len(steps) != 2 || steps[0].to.UID != "80" || steps[1].to.UID != "210" || steps[0].seconds < 3500 || steps[1].seconds > -3500 {
		t.Errorf("%+v", steps)
	}
}

// TestScatterHidesSteps: delays of hours, by chance an hour apart, are no step.
func TestScatterHidesSteps(t *testing.T) {
	for seed := range 50 {
		rng := rand.New(rand.NewPCG(uint64(seed), 3))
		var all series
		for i := range 200 {
			all.seconds = append(all.seconds, 4*3600*rng.Float64())
			all.studies = append(all.studies, &analyse.Study{UID: fmt.Sprint(i)})
		}
		if steps := stepsOf(all); len(steps) > 0 {
			t.Errorf("seed %d: %d steps in noise", seed, len(steps))
		}
	}
}

// TestUltrasoundOnly leaves devices of other modalities out, and keeps those whose
// header does not say what they are.
func TestUltrasoundOnly(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	list := slices.Concat(fleet{serial: "1"}.studies(rng, 3), fleet{serial: "2"}.studies(rng, 3), fleet{serial: "3"}.studies(rng, 3))
	for i, modality := range []string{"US", "CT", ""} {
		for _, s := range list[3*i : 3*i+3] {
			for _, img := range s.Images {
				img.Series = &ingest.Series{UID: "2.25.9", Modality: modality}
			}
		}
	}
	got := Of(list)
	if len(got) != 2 || got[0].Device.Serial != "1" || got[1].Device.Serial != "3" {
		t.Errorf("%d devices: %+v", len(got), got)
	}
}
