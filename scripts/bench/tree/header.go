package main

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"slices"
	"strings"
)

// element is one element of the top level with its value as the file holds it: a
// sequence is one value, items and all.
type element struct {
	tag uint32
	vr  string // empty in implicit syntaxes
	// undefined: the length is not written, the value ends with its delimiter.
	undefined bool
	value     []byte
}

// header is what stands before the pixel data: both groups of elements in the
// order of the file, which is the order of the tags (PS3.5 7.1).
type header struct {
	meta, data []element
	implicit   bool
	// pixelVR is the value representation of the pixel data; empty where there are
	// none, or the syntax writes none.
	pixelVR   string
	hasPixels bool
}

const (
	tagMetaLength     = 0x00020000
	tagMetaSOPUID     = 0x00020003
	tagTransferSyntax = 0x00020010
	tagPixelData      = 0x7FE00010
	tagItem           = 0xFFFEE000
	tagItemEnd        = 0xFFFEE00D
	tagSequenceEnd    = 0xFFFEE0DD
)

const undefinedLength = 0xFFFFFFFF

// metaAt is where the meta group begins: behind preamble and "DICM" (PS3.10 7.1).
const metaAt = 132

// implicitLE is the one transfer syntax without value representations (PS3.5 A.1).
const implicitLE = "1.2.840.10008.1.2"

var errCut = errors.New("the file ends inside an element")

var le = binary.LittleEndian

// parse reads the header of a little endian file that is sound: the sources are
// chosen by hand, and this is no reader for others.
func parse(file []byte) (*header, error) {
	if len(file) < metaAt || string(file[metaAt-4:metaAt]) != "DICM" {
		return nil, errors.New("no file of PS3.10: no DICM at offset 128")
	}
	h := &header{}
	at := metaAt
	for at < len(file) {
		// The meta group is explicit whatever follows it (PS3.10 7.1).
		implicit := h.implicit && !bytes.HasPrefix(file[at:], []byte{2, 0})
		e, next, err := readElement(file, at, implicit)
		if err != nil {
			return nil, fmt.Errorf("at offset %d: %w", at, err)
		}
		switch {
		case e.tag>>16 == 2:
			h.meta = append(h.meta, e)
			if e.tag == tagTransferSyntax {
				h.implicit = strings.TrimRight(string(e.value), "\x00 ") == implicitLE
			}
		case e.tag == tagPixelData:
			h.hasPixels, h.pixelVR = true, e.vr
			return h, nil
		default:
			h.data = append(h.data, e)
		}
		at = next
	}
	return h, nil
}

// long tells the value representations whose length has four bytes (PS3.5 7.1.2).
func long(vr string) bool {
	return slices.Contains([]string{"OB", "OD", "OF", "OL", "OV", "OW", "SQ", "SV", "UC", "UN", "UR", "UT", "UV"}, vr)
}

// readElement reads the element at an offset and says where the next one begins.
// Of pixel data it reads no value.
func readElement(file []byte, at int, implicit bool) (element, int, error) {
	e, length, from, err := readHead(file, at, implicit)
	if err != nil || e.tag == tagPixelData {
		return e, from, err
	}
	if length != undefinedLength {
		if int64(from)+int64(length) > int64(len(file)) {
			return e, 0, errCut
		}
		e.value = file[from : from+int(length)]
		return e, from + int(length), nil
	}
	e.undefined = true
	// UN of undefined length is written implicitly within (PS3.5 6.2.2).
	next, err := skipItems(file, from, implicit || e.vr == "UN")
	if err != nil {
		return e, 0, err
	}
	e.value = file[from:next]
	return e, next, nil
}

// readHead reads tag, value representation and length, and says where the value
// begins.
func readHead(file []byte, at int, implicit bool) (e element, length uint32, from int, err error) {
	if at+8 > len(file) {
		return e, 0, 0, errCut
	}
	e.tag = uint32(le.Uint16(file[at:]))<<16 | uint32(le.Uint16(file[at+2:]))
	if implicit || e.tag>>16 == 0xFFFE {
		return e, le.Uint32(file[at+4:]), at + 8, nil
	}
	e.vr = string(file[at+4 : at+6])
	if long(e.vr) {
		if at+12 > len(file) {
			return e, 0, 0, errCut
		}
		return e, le.Uint32(file[at+8:]), at + 12, nil
	}
	return e, uint32(le.Uint16(file[at+6:])), at + 8, nil
}

// skipItems walks the items of a sequence of undefined length and returns the
// offset behind its delimiter.
func skipItems(file []byte, at int, implicit bool) (int, error) {
	for {
		item, length, from, err := readHead(file, at, true)
		switch {
		case err != nil:
			return 0, err
		case item.tag == tagSequenceEnd:
			return from, nil
		case item.tag != tagItem:
			return 0, fmt.Errorf("at offset %d: an item is expected", at)
		case length != undefinedLength:
			at = from + int(length)
			continue
		}
		for at = from; ; {
			e, next, err := readElement(file, at, implicit)
			if err != nil {
				return 0, err
			}
			at = next
			if e.tag == tagItemEnd {
				break
			}
		}
	}
}

// get returns the value of an element as text without its padding.
func (h *header) get(tag uint32) string {
	for _, e := range h.data {
		if e.tag == tag {
			return strings.TrimRight(string(e.value), "\x00 ")
		}
	}
	return ""
}

// number returns an unsigned short of the header, 0 where there is none.
func (h *header) number(tag uint32) int {
	for _, e := range h.data {
		if e.tag == tag && len(e.value) >= 2 {
			return int(le.Uint16(e.value))
		}
	}
	return 0
}

// put sets an element, and inserts it where it is absent. The slice of elements is
// this header's own (see clone); values are replaced, never written into.
func (h *header) put(tag uint32, vr string, value []byte) {
	list := &h.data
	if tag>>16 == 2 {
		list = &h.meta
	}
	if h.implicit && tag>>16 != 2 {
		vr = ""
	}
	at, found := slices.BinarySearchFunc(*list, tag, func(e element, tag uint32) int {
		return int(int64(e.tag) - int64(tag))
	})
	if !found {
		*list = slices.Insert(*list, at, element{})
	}
	(*list)[at] = element{tag: tag, vr: vr, value: value}
}

// text sets an element of characters, padded to even length (PS3.5 6.2).
func (h *header) text(tag uint32, vr, value string) {
	if len(value)%2 == 1 {
		value += map[bool]string{true: "\x00", false: " "}[vr == "UI"]
	}
	h.put(tag, vr, []byte(value))
}

// replace sets an element of characters where the header has it.
func (h *header) replace(tag uint32, vr, value string) {
	if slices.ContainsFunc(h.data, func(e element) bool { return e.tag == tag }) {
		h.text(tag, vr, value)
	}
}

// clone is a header that can be changed while the first stays as it is.
func (h *header) clone() *header {
	c := *h
	c.meta, c.data = slices.Clone(h.meta), slices.Clone(h.data)
	return &c
}

// encode writes preamble, meta group and data elements; group lengths, where the
// file has them, are those of the elements now written.
func (h *header) encode() []byte {
	out := append(make([]byte, metaAt-4), "DICM"...)
	out = appendGroups(out, h.meta, false)
	return appendGroups(out, h.data, h.implicit)
}

func appendGroups(out []byte, list []element, implicit bool) []byte {
	for len(list) > 0 {
		n := 1
		for n < len(list) && list[n].tag>>16 == list[0].tag>>16 {
			n++
		}
		group := list[:n]
		list = list[n:]
		if group[0].tag&0xFFFF != 0 {
			out = appendElements(out, group, implicit)
			continue
		}
		body := appendElements(nil, group[1:], implicit)
		length := element{tag: group[0].tag, vr: group[0].vr, value: le.AppendUint32(nil, uint32(len(body)))}
		out = append(appendElements(out, []element{length}, implicit), body...)
	}
	return out
}

func appendElements(out []byte, list []element, implicit bool) []byte {
	for _, e := range list {
		length := uint32(len(e.value))
		if e.undefined {
			length = undefinedLength
		}
		out = append(appendHead(out, e.tag, e.vr, length, implicit), e.value...)
	}
	return out
}

func appendHead(out []byte, tag uint32, vr string, length uint32, implicit bool) []byte {
	out = le.AppendUint16(out, uint16(tag>>16))
	out = le.AppendUint16(out, uint16(tag))
	switch {
	case implicit:
		return le.AppendUint32(out, length)
	case long(vr):
		out = append(out, vr[0], vr[1], 0, 0)
		return le.AppendUint32(out, length)
	}
	return le.AppendUint16(append(out, vr...), uint16(length))
}
