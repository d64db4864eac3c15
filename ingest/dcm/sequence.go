package dcm

import "encoding/binary"

// sequence reads the items of a sequence; with d nil, or an unwanted sequence, it
// only walks them. It returns where the next element begins.
func (s *Scanner) sequence(d *Dataset, h *header, f *frame) (int64, error) {
	if err := s.count(h.offset); err != nil && d != nil {
		return h.offset, err
	}
	inner := &frame{off: h.value, end: f.end, open: h.undefined, enc: f.enc, depth: f.depth + 1, keep: d != nil, charset: f.charset}
	if !h.undefined {
		inner.end = h.value + h.length
	}
	base := len(s.sets)
	next, err := s.items(d, h, inner)
	if d != nil {
		s.stack = append(s.stack, Element{Tag: h.tag, VR: vrSQ, Items: s.datasets.keep(s.sets[base:]), Offset: h.offset})
	}
	s.sets = s.sets[:base]
	return next, err
}

// items walks the items of one sequence. A defined sequence that holds something
// else is left at its end with a problem noted; in an open one nothing tells
// where it would end, so that is an error.
func (s *Scanner) items(d *Dataset, h *header, f *frame) (int64, error) {
	var ih header
	for off := f.off; ; {
		if off == f.end && !f.open {
			return off, nil
		}
		err := s.header(&ih, off, f)
		if err == nil && ih.tag == sequenceDelimitation {
			if f.open {
				return ih.value, nil
			}
			off = ih.value
			continue
		}
		if err == nil && ih.tag != item {
			err = &FormatError{Offset: off, Tag: ih.tag, Expected: "an item of sequence " + h.tag.String()}
		}
		if err != nil {
			return s.abandon(d, h, f, err)
		}
		if s.walked++; s.walked > maxWalked {
			return off, &LimitError{What: "header elements", Limit: maxWalked, Offset: off}
		}
		if off, err = s.item(&ih, f); err != nil {
			return off, err
		}
	}
}

// abandon gives up a broken sequence whose end is known, and keeps what was read.
func (s *Scanner) abandon(d *Dataset, h *header, f *frame, err error) (int64, error) {
	if f.open {
		return f.off, err
	}
	if d != nil {
		s.misfit(d, h, "items, each within the sequence")
	}
	return f.end, nil
}

// item reads one item: its elements, and where the next item begins.
func (s *Scanner) item(ih *header, f *frame) (int64, error) {
	inner := *f
	inner.off, inner.open = ih.value, ih.undefined
	if !ih.undefined {
		inner.end = ih.value + ih.length
	}
	if !f.keep && !ih.undefined {
		return inner.end, nil
	}
	if inner.depth > maxDepth {
		return ih.offset, &LimitError{What: "levels of nested sequences", Limit: maxDepth, Offset: ih.offset}
	}
	if f.keep {
		// An empty item takes memory too.
		if err := s.count(ih.offset); err != nil {
			return ih.offset, err
		}
	}
	d := Dataset{shared: s.out.Data.shared}
	base := len(s.stack)
	next, err := s.elementsOf(&d, &inner)
	if f.keep {
		s.finish(&d, base)
		s.sets = append(s.sets, d)
	}
	return next, err
}

// skipSequence steps over an unwanted sequence: by its length where it has one,
// else item by item to its delimiter.
func (s *Scanner) skipSequence(h *header, f *frame) (int64, error) {
	if !h.undefined {
		return h.value + h.length, nil
	}
	return s.sequence(nil, h, f)
}

// fragments steps over an encapsulated value of undefined length outside the
// pixel data: items of bytes up to a sequence delimiter (PS3.5 A.4).
func (s *Scanner) fragments(h *header, f *frame) (int64, error) {
	within := *f
	within.top = false
	var ih header
	for off := h.value; ; {
		err := s.header(&ih, off, &within)
		switch {
		case err != nil:
			return off, err
		case ih.tag == sequenceDelimitation:
			return ih.value, nil
		case ih.tag != item || ih.undefined:
			return off, &FormatError{Offset: off, Tag: ih.tag, Expected: "a fragment of " + h.tag.String() + " or its delimiter"}
		}
		if s.walked++; s.walked > maxWalked {
			return off, &LimitError{What: "header elements", Limit: maxWalked, Offset: off}
		}
		off = ih.value + ih.length
	}
}

// pixels judges the pixel data element without reading it: whether all that its
// length or its fragments promise is there.
func (s *Scanner) pixels(h *header, f *frame) error {
	s.out.Pixels = PixelsWhole
	if s.picture {
		s.placed(h, f)
		return nil
	}
	if !h.undefined {
		if h.value+h.length > f.end && s.src.exact() {
			s.out.Pixels = PixelsCut
		}
		return nil
	}
	if s.src != source(&s.file) {
		return nil // a stream is not read to its end to learn that
	}
	if s.endsDelimited(f.end) || s.fragmentsWhole(h.value, f.end) {
		return nil
	}
	s.out.Pixels = PixelsCut
	return nil
}

// endsDelimited tells that the file ends with a sequence delimiter, as it does
// where nothing follows encapsulated pixel data. It saves walking the fragments.
func (s *Scanner) endsDelimited(end int64) bool {
	tag, length, ok := s.fragmentHeader(end - 8)
	return ok && tag == sequenceDelimitation && length == 0
}

// fragmentsWhole walks the fragments by their headers alone.
func (s *Scanner) fragmentsWhole(off, end int64) bool {
	for n := 0; n < maxWalked; n++ {
		tag, length, ok := s.fragmentHeader(off)
		if !ok || (tag != item && tag != sequenceDelimitation) {
			return false
		}
		if tag == sequenceDelimitation {
			return true
		}
		if off += 8 + int64(length); off > end {
			return false
		}
	}
	return false
}

// fragmentHeader reads the eight bytes of an item header, little endian as in
// every encapsulated syntax, past the window, so that no pixels are read with it.
func (s *Scanner) fragmentHeader(off int64) (tag Tag, length uint32, ok bool) {
	if off < 0 {
		return 0, 0, false
	}
	n, _ := s.file.r.ReadAt(s.small[:], off)
	s.file.read += int64(n)
	if n < len(s.small) {
		return 0, 0, false
	}
	order := binary.LittleEndian
	return Tag(order.Uint16(s.small[:]))<<16 | Tag(order.Uint16(s.small[2:])), order.Uint32(s.small[4:]), true
}
