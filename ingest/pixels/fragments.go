package pixels

import "encoding/binary"

// maxFragments bounds how many pieces one frame may be in.
const maxFragments = 4096

// fragments are the bytes of the first frame of encapsulated pixel data (PS3.5 A.4).
//
// The basic offset table says where the second frame begins. Where it is empty, a
// frame of an extended offset table is one fragment, one of a single frame is all of
// them, and of JPEG data the next frame begins with a marker of its own.
func (d *description) fragments(f *file) ([]byte, error) {
	next, second, err := d.offsets(f)
	if err != nil {
		return nil, err
	}
	limit := 2*d.nativeBytes() + 1<<16 // what is packed seldom becomes larger, and never so much
	var frame []byte
	for n := 0; n < maxFragments; n++ {
		if n > 0 && next == second {
			return frame, nil
		}
		piece, after, err := d.fragment(f, next, limit-int64(len(frame)))
		switch {
		case err != nil:
			return nil, err
		case piece == nil:
			return frame, nil
		case n > 0 && second < 0 && d.frames > 1 && d.begins(piece):
			return frame, nil
		}
		frame, next = append(frame, piece...), after
		if d.alone {
			return frame, nil
		}
	}
	return nil, notDecoded("more than %d fragments", maxFragments)
}

// offsets reads of the basic offset table, which may be huge, where the first frame
// begins and, if it says so, the second; else that is -1.
func (d *description) offsets(f *file) (first, second int64, err error) {
	off := d.place.Offset
	tag, length, err := item(f, off)
	switch {
	case err != nil:
		return 0, 0, err
	case tag != itemTag:
		return 0, 0, errNoFragments
	case length > 4*int64(d.frames)+8:
		return 0, 0, notDecoded("an offset table of %d bytes for %d frames", length, d.frames)
	}
	first = off + 8 + length
	if length < 8 {
		return first, -1, nil
	}
	table, err := f.at(off+8, 8)
	if err != nil {
		return 0, 0, err
	}
	return first, first + int64(binary.LittleEndian.Uint32(table[4:])) - int64(binary.LittleEndian.Uint32(table)), nil
}

// begins tells that a fragment is the first of a frame: of RLE data each is (PS3.5
// A.4.2), of JPEG data one with the marker SOI.
func (d *description) begins(b []byte) bool {
	return d.syntax == rleLossless || len(b) >= 2 && b[0] == 0xFF && b[1] == 0xD8
}

// The tags of an item, FFFE,E000, and of a sequence delimiter, FFFE,E0DD, as they are read.
const (
	itemTag      = 0xE000FFFE
	delimiterTag = 0xE0DDFFFE
)

var errNoFragments = &NotDecodedError{Reason: "pixel data that are not in fragments"}

// item reads the head of an item.
func item(f *file, off int64) (tag uint32, length int64, err error) {
	head, err := f.at(off, 8)
	if err != nil {
		return 0, 0, err
	}
	return binary.LittleEndian.Uint32(head), int64(binary.LittleEndian.Uint32(head[4:])), nil
}

// fragment reads the item at off, of at most limit bytes, and says where the next one
// begins; piece is nil at the delimiter.
func (d *description) fragment(f *file, off, limit int64) (piece []byte, next int64, err error) {
	tag, length, err := item(f, off)
	switch {
	case err != nil:
		return nil, 0, err
	case tag == delimiterTag:
		return nil, off + 8, nil
	case tag != itemTag:
		return nil, 0, errNoFragments
	case length > limit:
		return nil, 0, notDecoded("a fragment of %d bytes, larger than its picture", length)
	}
	if piece, err = f.at(off+8, length); err != nil {
		return nil, 0, err
	}
	return piece, off + 8 + length, nil
}
