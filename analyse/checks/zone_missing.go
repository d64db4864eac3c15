package checks

import (
	"fmt"

	"leadline/analyse"
	"leadline/ingest"
)

// ZoneMissing is the finding zone-missing: a device does not say its time zone.
var ZoneMissing = analyse.Check{
	ID:    "zone-missing",
	Title: "a device does not say in which time zone its clock runs",
	Doc: "Timezone Offset From UTC (0008,0201) says how all dates and times of an object are meant (PS3.3 C.12.1.1). It is optional, and this device leaves it" +
		" out. Its times are readings of a clock in an unknown zone: an hour of daylight saving, or a device that runs in UTC, cannot be told from a clock that is wrong." +
		" Counted once for a device, however many images it made.",
	Advice:   "Have the device write its time zone, if it can; see that it changes with daylight saving.",
	Severity: analyse.Note,
	OfDevice: true,
}

// ZonesMissing are the findings about devices that leave out the zone in some image
// with a time, one for each device.
func ZonesMissing(studies []*analyse.Study) []analyse.Finding {
	type tally struct {
		device     *ingest.Device
		all, mute  int
		in         int
		lastCounts *analyse.Study
	}
	at := map[string]*tally{}
	var order []*tally
	for _, s := range studies {
		for _, img := range s.Images {
			taken, timed := img.Taken()
			if !timed {
				continue
			}
			t := at[analyse.DeviceName(img.Device)]
			if t == nil {
				t = &tally{device: img.Device}
				at[analyse.DeviceName(img.Device)], order = t, append(order, t)
			}
			t.all++
			if taken.Zone {
				continue
			}
			t.mute++
			if t.lastCounts != s {
				t.lastCounts = s
				t.in++
			}
		}
	}
	var findings []analyse.Finding
	for _, t := range order {
		if t.mute > 0 {
			findings = append(findings, Stamp(&ZoneMissing, analyse.Finding{Device: t.device,
				Message: fmt.Sprintf("%d of its %s with a time %s no time zone; in %s", t.mute, analyse.Counted(t.all, "image", "images"), analyse.Agree(t.mute, "states", "state"), analyse.Counted(t.in, "study", "studies"))}))
		}
	}
	return findings
}
