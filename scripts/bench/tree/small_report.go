package main

import (
	"fmt"
	"math"
	"slices"
)

const comprehensiveSR = "1.2.840.10008.5.1.4.1.1.88.33"

// LOINC codes of lengths that a report of the newborn heart holds.
var lengths = [][2]string{
	{"29436-3", "Left Ventricle Internal End Diastolic Dimension"},
	{"29438-9", "Left Ventricle Internal Systolic Dimension"},
	{"20304-2", "Right Ventricular Internal Diastolic Dimension"},
}

// heartLengths are those that the built-in protocol asks for, and one more.
var heartLengths = append(slices.Clone(lengths), [][2]string{
	{"29469-4", "Left Atrium Antero-posterior Systolic Dimension"},
	{"18015-8", "Aortic Root Diameter"},
	{"80028-4", "Left Ventricular Outflow Tract Diameter"},
	{"77903-3", "Tricuspid Annular Plane Systolic Excursion"},
}...)

// smallReport is a report with so many lengths, each with its caliper on one of
// the images of the study; image i is file i. codes are what is measured in turn.
func smallReport(s study, images []source, codes [][2]string, measurements int) source {
	h := newHeader(comprehensiveSR)
	h.text(tagModality, "CS", "SR")
	h.text(tagValueType, "CS", "CONTAINER")
	h.put(tagConceptName, "SQ", items([][]byte{coded("125200", "DCM", "Adult Echocardiography Procedure Report")}))
	h.text(0x0040A050, "CS", "SEPARATE")
	h.text(0x0040A491, "CS", "COMPLETE")
	h.text(0x0040A493, "CS", "UNVERIFIED")
	var content [][]byte
	for i := range measurements {
		content = append(content, length(s, images, codes[i%len(codes)], i))
	}
	h.put(tagContent, "SQ", items(content))
	return source{kind: report, header: h}
}

// The elements of a report's content (PS3.3 C.17.3, C.18).
const (
	tagModality     = 0x00080060
	tagRelationship = 0x0040A010
	tagValueType    = 0x0040A040
	tagConceptName  = 0x0040A043
	tagContent      = 0x0040A730
)

// length is number i of a report: a line down the picture of an image, in
// millimetres with one decimal place.
func length(s study, images []source, code [2]string, i int) []byte {
	image := i % len(images)
	pixels := 60 + 5*float64(i%20)
	measured := &header{}
	measured.text(0x0040A30A, "DS", fmt.Sprintf("%.1f", pixels*images[image].mmPerPixel))
	measured.put(0x004008EA, "SQ", items([][]byte{coded("mm", "UCUM", "millimeter")}))
	return node("CONTAINS", "NUM", func(h *header) {
		h.put(tagConceptName, "SQ", items([][]byte{coded(code[0], "LN", code[1])}))
		h.put(0x0040A300, "SQ", items([][]byte{appendElements(nil, measured.data, false)}))
		h.put(tagContent, "SQ", items([][]byte{line(s.instanceUID(image), pixels)}))
	})
}

// line is the caliper of a length, on an image.
func line(imageUID string, pixels float64) []byte {
	image := &header{}
	image.text(0x00081150, "UI", usImage)
	image.text(0x00081155, "UI", imageUID)
	selected := node("SELECTED FROM", "IMAGE", func(h *header) {
		h.put(0x00081199, "SQ", items([][]byte{appendElements(nil, image.data, false)}))
	})
	return node("INFERRED FROM", "SCOORD", func(h *header) {
		var points []byte
		for _, v := range []float64{300.5, 100.5, 300.5, 100.5 + pixels} {
			points = le.AppendUint32(points, math.Float32bits(float32(v)))
		}
		h.put(0x00700022, "FL", points)
		h.text(0x00700023, "CS", "POLYLINE")
		h.put(tagContent, "SQ", items([][]byte{selected}))
	})
}

// node is one item of content.
func node(relationship, valueType string, fill func(*header)) []byte {
	h := &header{}
	h.text(tagRelationship, "CS", relationship)
	h.text(tagValueType, "CS", valueType)
	fill(h)
	return appendElements(nil, h.data, false)
}

// coded is one coded entry (PS3.3 8.8).
func coded(value, scheme, meaning string) []byte {
	h := &header{}
	h.text(0x00080100, "SH", value)
	h.text(0x00080102, "SH", scheme)
	h.text(0x00080104, "LO", meaning)
	return appendElements(nil, h.data, false)
}
