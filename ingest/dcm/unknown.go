package dcm

import "slices"

// unknownFrame is how the content of a sequence without a VR is written: of VR UN
// implicit little endian whatever the file is (PS3.5 6.2.2), without any as the rest.
// Some writers of UN keep to the encoding of the file: the VR of the first element
// shows it.
func (s *Scanner) unknownFrame(h *header, f *frame) *frame {
	inner := *f
	if h.vr == vrUN && !s.explicitInside(h, f) {
		inner.enc = syntax{implicit: true}
	}
	return &inner
}

// explicitInside tells that the first item of the sequence h holds an element with a
// VR. Read as implicit, its letters would be half of a length, and one that leads far.
func (s *Scanner) explicitInside(h *header, f *frame) bool {
	const first = 16 // header of the item; tag, VR and length of its first element
	if f.enc.implicit || h.value+first > f.end {
		return false
	}
	b, err := s.at(h.value, first)
	if err != nil {
		return false
	}
	tag := Tag(f.enc.uint16(b))<<16 | Tag(f.enc.uint16(b[2:]))
	return tag == item && formOf(b[12], b[13]) != unknownForm
}

// turnRound brings a little endian value into the byte order of a big endian file.
func turnRound(e *Element) {
	width := numberWidth(e.VR)
	if e.VR == vrAT {
		width = 2
	}
	for at := 0; width > 0 && at+width <= len(e.Value); at += width {
		slices.Reverse(e.Value[at : at+width])
	}
}
