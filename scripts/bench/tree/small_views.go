package main

import "math/rand/v2"

// shown is one picture of a newborn heart study: the view with the code that
// Leadline's vocabulary has for it (empty where it has none: then the name alone is
// written), and what kind of picture it is.
type shown struct {
	view, code string
	kind       kind
	// mode is that of Image Type value 4 (PS3.3 C.8.5.6.1.1) and of the regions.
	mode mode
}

// mode is the kind of picture that a device writes beside greyscale.
type mode string

const (
	grey     mode = "0001"
	mMode    mode = "0003"
	pulsed   mode = "0009"
	coloured mode = "0011"
)

// heart are the pictures that a functional study of the newborn heart takes, in the
// order of scanning: all that the built-in protocol asks for, and one more still.
var heart = []shown{
	{"parasternal long axis", "399139001", clip, grey},
	{"parasternal long axis", "399139001", strip, mMode},
	{"parasternal short axis base", "399239005", clip, coloured},
	{"apical four chamber", "399214001", clip, grey},
	{"apical four chamber", "399214001", strip, mMode},
	{"apical five chamber", "", strip, pulsed},
	{"subcostal", "", clip, grey},
	{"high parasternal", "", clip, grey},
	{"high parasternal", "", clip, coloured},
	{"high parasternal", "", strip, pulsed},
	{"apical four chamber", "399214001", strip, pulsed},
	{"parasternal short axis mid", "399271003", still, grey},
	{"suprasternal", "", clip, grey},
}

// oneInForgotten is how many pictures of a study one is left out of, so that studies
// are seldom whole.
const oneInForgotten = 8

// heartSources are those pictures at the depths of the small ones, by place in heart.
func heartSources() [][]source {
	all := make([][]source, len(heart))
	for i, s := range heart {
		for _, depthMM := range smallDepths {
			src := describe(s.kind, s.header(depthMM))
			src.mmPerPixel = depthMM / planeRows
			all[i] = append(all[i], src)
		}
	}
	return all
}

func (s shown) header(depthMM float64) *header {
	regions := [][]byte{planeRegion(depthMM)}
	switch s.mode {
	case pulsed:
		regions = append(regions, stripRegion(depthMM))
	case mMode:
		regions = append(regions, mModeRegion(depthMM))
	case coloured:
		delta := depthMM / 10 / planeRows
		regions = append(regions, region(1, 2, [4]uint32{200, 60, 439, 219}, [2]uint16{3, 3}, [2]float64{delta, delta}))
	}
	h := smallHeader(regions)
	h.text(0x00080008, "CS", `ORIGINAL\PRIMARY\TTE\`+string(s.mode))
	h.text(tagViewName, "SH", s.view)
	if s.code != "" {
		h.put(tagViewCode, "SQ", items([][]byte{coded(s.code, "SCT", s.view)}))
	}
	if s.kind == clip {
		h.text(0x00020002, "UI", usMultiFrame)
		h.text(0x00080016, "UI", usMultiFrame)
		h.text(tagFrameTime, "DS", "33.3")
		h.text(tagNumberOfFrames, "IS", "40")
		h.put(0x00280009, "AT", []byte{0x18, 0, 0x63, 0x10}) // the frames are apart by Frame Time
	}
	return h
}

const (
	usMultiFrame = "1.2.840.10008.5.1.4.1.1.3.1"
	tagFrameTime = 0x00181063
	tagViewName  = 0x00082127
	tagViewCode  = 0x00540220
)

// mModeRegion is a strip of seconds across and centimetres down.
func mModeRegion(depthMM float64) []byte {
	bounds := [4]uint32{0, planeRows + 10, smallColumns - 1, smallRows - 1}
	return region(2, 1, bounds, [2]uint16{4, 3}, [2]float64{0.005, depthMM / 10 / float64(smallRows-planeRows-10)})
}

// heartStudy chooses the pictures of a study: those of a heart in their order, at one
// depth, some left out and taken twice of another view instead.
func heartStudy(sources [][]source, files int, r *rand.Rand) []source {
	depth := r.IntN(len(smallDepths))
	chosen := make([]source, files)
	for i := range chosen {
		at := i % len(sources)
		if r.IntN(oneInForgotten) == 0 {
			at = (at + 1) % len(sources)
		}
		chosen[i] = sources[at][depth]
	}
	return chosen
}
