package clocks

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"leadline/analyse"
	"leadline/ingest"
)

// zone asks which zones the images of a device state. Two that are an hour apart
// are winter and summer of one place.
func (u *unit) zone() analyse.ClockFact {
	f := analyse.ClockFact{Aspect: analyse.AspectZone, Unit: "h"}
	stated := map[time.Duration]int{}
	mute := 0
	for _, s := range u.studies {
		for _, img := range s.images {
			switch at, timed := img.Taken(); {
			case !timed:
			case at.Zone:
				stated[at.East]++
				f.N++
			default:
				mute++
				f.N++
			}
		}
	}
	zones := make([]time.Duration, 0, len(stated))
	for z := range stated {
		zones = append(zones, z)
	}
	slices.Sort(zones)
	words := make([]string, len(zones))
	for i, z := range zones {
		words[i] = hoursEast(z)
	}
	said := strings.Join(words, " and ")
	switch {
	case f.N == 0:
		f.Verdict, f.Evidence = analyse.ClockUnknown, "no image says when it was taken"
	case len(zones) == 0:
		f.Verdict, f.Evidence = analyse.ClockUnknown, fmt.Sprintf("none of %s states a zone", analyse.Counted(f.N, "image", "images"))
	case mute > 0:
		f.Verdict, f.Evidence = analyse.ClockLook, analyse.CountedOf(mute, analyse.Counted(f.N, "image", "images"), "states", "state")+" no zone, the others "+said
	case len(zones) > 2 || len(zones) == 2 && zones[1]-zones[0] != time.Hour:
		f.Verdict, f.Evidence = analyse.ClockLook, fmt.Sprintf("%d images state %d zones: %s", f.N, len(zones), said)
	default:
		f.Verdict, f.Value, f.Evidence = analyse.ClockSteady, ingest.Some(zones[0].Hours()), fmt.Sprintf("%s, stating %s", analyse.Counted(f.N, "image", "images"), said)
	}
	return f
}

func hoursEast(z time.Duration) string {
	sign := '+'
	if z < 0 {
		sign, z = '-', -z
	}
	return fmt.Sprintf("%c%02d:%02d", sign, int(z.Hours()), int(z.Minutes())%60)
}
