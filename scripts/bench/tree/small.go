package main

import (
	"math"
)

// smallSources are invented ultrasound pictures: a handful of depth settings, as
// a fleet of devices has, each with the regions of a 2D picture and every second
// one with a spectral strip below it.
func smallSources() map[kind][]source {
	all := map[kind][]source{}
	for i, depthMM := range smallDepths {
		regions := [][]byte{planeRegion(depthMM)}
		k := still
		if i%2 == 1 {
			regions = append(regions, stripRegion(depthMM))
			k = strip
		}
		src := describe(k, smallHeader(regions))
		src.mmPerPixel = depthMM / planeRows
		all[k] = append(all[k], src)
	}
	return all
}

// smallDepths are the depths of the invented pictures in millimetres.
var smallDepths = []float64{40, 50, 60, 70, 80, 100, 120, 150}

// The picture of the invented headers, in pixels.
const (
	smallRows, smallColumns = 480, 640
	planeRows               = 300
)

const usImage = "1.2.840.10008.5.1.4.1.1.6.1"

// newHeader is an explicit little endian header of a class, with its meta group.
func newHeader(sopClass string) *header {
	h := &header{}
	h.put(tagMetaLength, "UL", make([]byte, 4))
	h.put(0x00020001, "OB", []byte{0, 1})
	h.text(0x00020002, "UI", sopClass)
	h.text(tagTransferSyntax, "UI", explicitLE)
	h.text(0x00020012, "UI", study{}.uid("implementation"))
	h.text(0x00080005, "CS", "ISO_IR 100")
	h.text(0x00080016, "UI", sopClass)
	return h
}

func smallHeader(regions [][]byte) *header {
	h := newHeader(usImage)
	h.hasPixels, h.pixelVR = true, "OB"
	h.text(0x00080008, "CS", `ORIGINAL\PRIMARY\\0001`)
	for _, tag := range []uint32{tagSeriesDate, tagAcquisitionDate, tagSeriesTime, tagAcquisitionTime, tagInstitution, 0x00081070, tagSoftware} {
		h.text(tag, "LO", "") // filled by the study; which VR is given there
	}
	h.text(tagModality, "CS", "US")
	h.text(0x00081030, "LO", "Ultrasound of the newborn")
	h.text(0x0008103E, "LO", "Cardiac")
	h.text(tagWeight, "DS", "2.3")
	h.text(0x00180015, "CS", "HEART")
	h.text(0x00185022, "DS", "0.9")
	h.put(0x00186011, "SQ", items(regions))
	h.put(tagSamplesPerPixel, "US", short(1))
	h.text(0x00280004, "CS", "MONOCHROME2")
	h.put(tagRows, "US", short(smallRows))
	h.put(tagColumns, "US", short(smallColumns))
	h.put(tagBitsAllocated, "US", short(8))
	h.put(0x00280101, "US", short(8))
	h.put(0x00280102, "US", short(7))
	h.put(0x00280103, "US", short(0))
	h.text(0x00282110, "CS", "00")
	// What a device keeps for itself.
	h.text(0x00290010, "LO", "INVENTED PRIVATE")
	h.put(0x00291001, "OB", make([]byte, 1200))
	return h
}

// planeRegion is a 2D region with the depth over its rows (PS3.3 C.8.5.5).
func planeRegion(depthMM float64) []byte {
	delta := depthMM / 10 / planeRows // cm per pixel
	return region(1, 1, [4]uint32{0, 0, smallColumns - 1, planeRows - 1}, [2]uint16{3, 3}, [2]float64{delta, delta})
}

// stripRegion is a spectral region: seconds across, cm/s down (PS3.3 C.8.5.5.1.15).
func stripRegion(depthMM float64) []byte {
	return region(3, 3, [4]uint32{0, planeRows + 10, smallColumns - 1, smallRows - 1}, [2]uint16{4, 7}, [2]float64{0.005, -depthMM / 50})
}

func region(format, data uint16, bounds [4]uint32, units [2]uint16, delta [2]float64) []byte {
	h := &header{}
	h.put(0x00186012, "US", short(format))
	h.put(0x00186014, "US", short(data))
	h.put(0x00186016, "UL", le.AppendUint32(nil, 0))
	for i, tag := range []uint32{0x00186018, 0x0018601A, 0x0018601C, 0x0018601E} {
		h.put(tag, "UL", le.AppendUint32(nil, bounds[i]))
	}
	h.put(0x00186020, "SL", le.AppendUint32(nil, smallColumns/2))
	h.put(0x00186022, "SL", le.AppendUint32(nil, 0))
	h.put(0x00186024, "US", short(units[0]))
	h.put(0x00186026, "US", short(units[1]))
	h.put(0x00186028, "FD", double(0))
	h.put(0x0018602A, "FD", double(0))
	h.put(0x0018602C, "FD", double(delta[0]))
	h.put(0x0018602E, "FD", double(delta[1]))
	h.put(0x00186030, "UL", le.AppendUint32(nil, 8000))
	return appendElements(nil, h.data, false)
}

func items(contents [][]byte) []byte {
	var out []byte
	for _, c := range contents {
		out = append(appendHead(out, tagItem, "", uint32(len(c)), true), c...)
	}
	return out
}

func short(v uint16) []byte { return le.AppendUint16(nil, v) }

func double(v float64) []byte {
	return le.AppendUint64(nil, math.Float64bits(v))
}
