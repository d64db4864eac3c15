// Package dcmbuild makes small data sets and files for the tests of the packages
// that read them. It writes explicit little endian only (PS3.5 7.1.2) and checks
// nothing: tests also want what is wrong.
package dcmbuild

import (
	"encoding/binary"
	"math"
	"strings"

	"leadline/ingest/dcm"
)

// Set is a data set or an item of these elements.
func Set(elements ...dcm.Element) dcm.Dataset { return dcm.Dataset{Elements: elements} }

// Text is an element of a text VR, its values joined by backslashes and padded to
// even length.
func Text(tag dcm.Tag, vr string, values ...string) dcm.Element {
	v := strings.Join(values, `\`)
	if len(v)%2 == 1 {
		v += " "
	}
	return dcm.Element{Tag: tag, VR: dcm.VR{vr[0], vr[1]}, Value: []byte(v)}
}

// Number is an element of a binary VR: US, SS, UL, SL, FL or FD.
func Number(tag dcm.Tag, vr string, values ...float64) dcm.Element {
	var b []byte
	for _, v := range values {
		switch vr {
		case "US", "SS":
			b = binary.LittleEndian.AppendUint16(b, uint16(int64(v)))
		case "UL", "SL":
			b = binary.LittleEndian.AppendUint32(b, uint32(int64(v)))
		case "FL":
			b = binary.LittleEndian.AppendUint32(b, math.Float32bits(float32(v)))
		default:
			b = binary.LittleEndian.AppendUint64(b, math.Float64bits(v))
		}
	}
	return dcm.Element{Tag: tag, VR: dcm.VR{vr[0], vr[1]}, Value: b}
}

// Sequence is a sequence of these items.
func Sequence(tag dcm.Tag, items ...dcm.Dataset) dcm.Element {
	return dcm.Element{Tag: tag, VR: dcm.VR{'S', 'Q'}, Items: items}
}

// Code is a code sequence of one code.
func Code(tag dcm.Tag, value, scheme, meaning string) dcm.Element {
	return Sequence(tag, Set(
		Text(dcm.CodeValue, "SH", value),
		Text(dcm.CodingSchemeDesignator, "SH", scheme),
		Text(dcm.CodeMeaning, "LO", meaning)))
}

// References is a sequence of one instance reference; no frames means all.
func References(tag dcm.Tag, uid string, frames ...string) dcm.Element {
	item := Set(Text(dcm.ReferencedSOPClassUID, "UI", "1.2.840.10008.5.1.4.1.1.6.1"), Text(dcm.ReferencedSOPInstanceUID, "UI", uid))
	if len(frames) > 0 {
		item.Elements = append(item.Elements, Text(dcm.ReferencedFrameNumber, "IS", frames...))
	}
	return Sequence(tag, item)
}

// File writes the data set as a file: preamble, mark, file meta group, data set.
func File(d dcm.Dataset) []byte { return file(d) }

// FileOf writes a file whose meta group names the SOP class.
func FileOf(sopClass string, d dcm.Dataset) []byte {
	return file(d, Text(dcm.MediaStorageSOPClassUID, "UI", sopClass))
}

func file(d dcm.Dataset, meta ...dcm.Element) []byte {
	b := append(make([]byte, 128), "DICM"...)
	b = appendSet(b, Set(append(meta, Text(dcm.TransferSyntaxUID, "UI", "1.2.840.10008.1.2.1\x00"))...))
	return appendSet(b, d)
}

func appendSet(b []byte, d dcm.Dataset) []byte {
	for _, e := range d.Elements {
		b = appendTag(b, e.Tag)
		value := e.Value
		for _, item := range e.Items {
			body := appendSet(nil, item)
			value = binary.LittleEndian.AppendUint32(appendTag(value, 0xFFFEE000), uint32(len(body)))
			value = append(value, body...)
		}
		b = append(b, e.VR[0], e.VR[1])
		switch string(e.VR[:]) {
		case "SQ", "UT", "UN", "OB", "OW", "UC", "UR":
			b = binary.LittleEndian.AppendUint32(append(b, 0, 0), uint32(len(value)))
		default:
			b = binary.LittleEndian.AppendUint16(b, uint16(len(value)))
		}
		b = append(b, value...)
	}
	return b
}

func appendTag(b []byte, t dcm.Tag) []byte {
	return binary.LittleEndian.AppendUint16(binary.LittleEndian.AppendUint16(b, t.Group()), uint16(t))
}
