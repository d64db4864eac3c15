package dcm

import (
	"encoding/binary"
	"errors"
	"fmt"
	"io"
)

// header reads the tag, VR and length of the element at off into h and checks the
// length against what its parent has left. It writes in place: to return a copy takes
// longer than to read it (measured: a twentieth of ingest).
func (s *Scanner) header(h *header, off int64, f *frame) error {
	*h = header{offset: off}
	b, err := s.need(off, 8, f)
	if err != nil {
		return err
	}
	h.tag = Tag(f.enc.uint16(b))<<16 | Tag(f.enc.uint16(b[2:]))
	var length uint32
	switch {
	case h.tag.Group() == 0xFFFE || f.enc.implicit:
		h.value, length = off+8, f.enc.uint32(b[4:])
	default:
		length, err = s.explicitLength(h, b, f)
	}
	if err != nil {
		return err
	}
	h.length = int64(length)
	switch {
	case length == undefinedLength:
		h.length, h.undefined = 0, true
		return s.mayBeOpen(h)
	case h.value+h.length <= f.end, isPixelData(h.tag) && f.top: // the pixels' length is judged, not obeyed
		return nil
	case !s.src.exact() && f.end == s.src.length():
		return &LimitError{What: "bytes of a compressed header", Limit: maxInflated, Offset: off}
	}
	return &FormatError{Offset: off, Tag: h.tag, Expected: fmt.Sprintf(
		"a value of at most %d bytes (that is all there is), and the length says %d", max(f.end-h.value, 0), h.length)}
}

func (e syntax) uint16(b []byte) uint16 {
	if e.big {
		return binary.BigEndian.Uint16(b)
	}
	return binary.LittleEndian.Uint16(b)
}

func (e syntax) uint32(b []byte) uint32 {
	if e.big {
		return binary.BigEndian.Uint32(b)
	}
	return binary.LittleEndian.Uint32(b)
}

// need returns n bytes at off, or says that the element there is cut.
func (s *Scanner) need(off int64, n int, f *frame) ([]byte, error) {
	if off+int64(n) <= f.end || f.top {
		b, err := s.at(off, n)
		if err == nil {
			return b, nil
		}
		if !errors.Is(err, io.ErrUnexpectedEOF) {
			return nil, err
		}
	}
	return nil, &FormatError{Offset: off, Expected: "an element header, and the bytes end before it is whole"}
}

// explicitLength reads VR and length. VRs of 32-bit length have two reserved
// bytes before it (PS3.5 7.1.2). What is no VR at all is an element written
// implicitly inside an explicit file, which real files hold.
func (s *Scanner) explicitLength(h *header, b []byte, f *frame) (uint32, error) {
	h.vr = VR{b[4], b[5]}
	switch form := formOf(b[4], b[5]); {
	case form == short:
		h.value = h.offset + 8
		return uint32(f.enc.uint16(b[6:])), nil
	case form == long:
		return s.longLength(h, f)
	case isLetter(b[4]) && isLetter(b[5]):
		return s.futureLength(h, b, f)
	}
	h.vr = VR{}
	h.value = h.offset + 8
	if length := f.enc.uint32(b[4:]); length == undefinedLength || h.value+int64(length) <= f.end {
		return length, nil
	}
	// Two damaged bytes where the VR should be: the short form still leads on.
	return uint32(f.enc.uint16(b[6:])), nil
}

func (s *Scanner) longLength(h *header, f *frame) (uint32, error) {
	b, err := s.need(h.offset, 12, f)
	if err != nil {
		return 0, err
	}
	h.value = h.offset + 12
	return f.enc.uint32(b[8:]), nil
}

// futureLength reads a VR that the standard does not know yet. New ones have the
// long form; where that cannot be, the short one is meant.
func (s *Scanner) futureLength(h *header, b []byte, f *frame) (uint32, error) {
	short16 := uint32(f.enc.uint16(b[6:]))
	if short16 == 0 {
		if n, err := s.longLength(h, f); err == nil && h.value+int64(n) <= f.end {
			return n, nil
		}
	}
	h.value = h.offset + 8
	return short16, nil
}

// mayBeOpen refuses undefined length where the standard does (PS3.5 7.1.2).
func (s *Scanner) mayBeOpen(h *header) error {
	switch h.vr {
	case vrSQ, vrUN, vrOB, vrOW, VR{}, VR{'O', 'D'}, VR{'O', 'F'}, VR{'O', 'L'}, VR{'O', 'V'}:
		return nil
	}
	return &FormatError{Offset: h.offset, Tag: h.tag, Expected: "a defined length for VR " + string(h.vr[:])}
}
