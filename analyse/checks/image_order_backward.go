package checks

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"leadline/analyse"
	"leadline/ingest"
)

// ImageOrderBackward is the finding image-order-backward: later numbers, earlier times.
var ImageOrderBackward = analyse.Check{
	ID:    "image-order-backward",
	Title: "images count up while their times go back",
	Doc: "Within a series of one device, an image with a higher Instance Number was taken more than a minute earlier than one with a lower number" +
		" (tolerance: common practice, no source). A clock that was set back during the study looks like this; so does a device that" +
		" numbers images in another order, for instance after review. Copies made afterwards (Image Type DERIVED or SECONDARY) are not judged. PS3.17 R.6 lets" +
		" the time of synchronised equipment step back rarely, and by parts of a second only.",
	Advice:   "See whether the clock of the device was set on that day; durations between images of this study are doubtful.",
	Severity: analyse.Note,
	Run:      imageOrderBackward,
}

const orderTolerance = time.Minute

func imageOrderBackward(s *analyse.Study) []analyse.Finding {
	steps, longest := 0, time.Duration(0)
	for _, images := range inNumber(s.Images) {
		for i := 1; i < len(images); i++ {
			before, _ := images[i-1].Taken()
			at, _ := images[i].Taken()
			if back := before.After(at); back > orderTolerance {
				steps, longest = steps+1, max(longest, back)
			}
		}
	}
	if steps == 0 {
		return nil
	}
	times := "once"
	if steps > 1 {
		times = fmt.Sprintf("%d times", steps)
	}
	return one(analyse.Finding{Message: fmt.Sprintf("times go back %s while image numbers go on, by up to %s", times, spell(longest))})
}

// inNumber are the original images with number and time, by series and device, in
// the order of their numbers.
func inNumber(images []*analyse.Image) [][]*analyse.Image {
	at := map[[2]string]int{}
	var groups [][]*analyse.Image
	for _, img := range images {
		if _, timed := img.Taken(); !timed || !img.InstanceNumber.Set || afterwards(img.Image) {
			continue
		}
		key := [2]string{img.Series.UID, analyse.DeviceName(img.Device)}
		i, known := at[key]
		if !known {
			i = len(groups)
			at[key], groups = i, append(groups, nil)
		}
		groups[i] = append(groups[i], img)
	}
	for _, g := range groups {
		slices.SortStableFunc(g, func(a, b *analyse.Image) int { return cmp.Compare(a.InstanceNumber.Value, b.InstanceNumber.Value) })
	}
	return groups
}

// afterwards tells an image that was made from others (PS3.3 C.7.6.1.1.2).
func afterwards(img *ingest.Image) bool {
	return slices.Contains(img.ImageType, "DERIVED") || slices.Contains(img.ImageType, "SECONDARY")
}
