package checks

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"leadline/analyse"
	"leadline/ingest"
)

// DeviceClocksApart is the finding device-clocks-apart: the devices of one study are hours apart.
var DeviceClocksApart = analyse.Check{
	ID:    "device-clocks-apart",
	Title: "two devices of one study are hours apart",
	Doc: "Images of two devices stand in one study, and between the times of the one and of the other lies more than an hour (common" +
		" practice, no source). One of the clocks is wrong, perhaps by the hour of daylight saving, or the study was taken up again later on another device." +
		" The header cannot tell which: devices that are used one after the other have no moment in common. Smaller offsets are not found here; the" +
		" sheet Clocks compares each device with what other systems wrote.",
	Advice:   "Compare the clocks of both devices with a clock that is set by network; see whether there were two examinations.",
	Severity: analyse.Warning,
	OfDevice: true,
	Run:      deviceClocksApart,
}

// devicesApart is more than it takes to fetch another device to a bedside.
const devicesApart = time.Hour

// stretch is when a device was used.
type stretch struct{ first, last ingest.Stamp }

func deviceClocksApart(s *analyse.Study) []analyse.Finding {
	used := stretches(s.Images)
	var apart time.Duration
	for i := 1; i < len(used); i++ {
		apart = max(apart, used[i].first.After(used[i-1].last))
		if used[i-1].last.After(used[i].last) > 0 {
			used[i].last = used[i-1].last
		}
	}
	if apart <= devicesApart {
		return nil
	}
	return one(analyse.Finding{Message: fmt.Sprintf("images of %d devices; %s lie between those of one and of the next", len(used), spell(apart))})
}

// stretches are when each device was used, by the first image.
func stretches(images []*analyse.Image) []stretch {
	at := map[string]int{}
	var used []stretch
	for _, img := range images {
		taken, timed := img.Taken()
		if !timed {
			continue
		}
		name := analyse.DeviceName(img.Device)
		i, known := at[name]
		if !known {
			i = len(used)
			at[name], used = i, append(used, stretch{taken, taken})
		}
		if taken.After(used[i].first) < 0 {
			used[i].first = taken
		}
		if taken.After(used[i].last) > 0 {
			used[i].last = taken
		}
	}
	slices.SortStableFunc(used, func(a, b stretch) int { return cmp.Compare(a.first.After(b.first), 0) })
	return used
}
