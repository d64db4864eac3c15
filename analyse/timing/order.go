package timing

import (
	"cmp"
	"slices"
	"time"

	"leadline/analyse"
	"leadline/ingest"
)

// BackTolerance is how far times may go back while image numbers go on: what makes
// two images at once may number them either way (common practice, no source).
const BackTolerance = time.Minute

// backSteps are the images that were taken earlier than the one numbered before.
func backSteps(images []*analyse.Image) []analyse.BackStep {
	var steps []analyse.BackStep
	for _, list := range inNumber(images) {
		for i := 1; i < len(list); i++ {
			before, _ := list[i-1].Taken()
			at, _ := list[i].Taken()
			if back := before.After(at); back > BackTolerance {
				steps = append(steps, analyse.BackStep{Image: list[i], By: back})
			}
		}
	}
	return steps
}

// inNumber are the original images with number and time, by series and device, in
// the order of their numbers. Images made from others keep the times of those.
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
