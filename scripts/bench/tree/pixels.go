package main

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strings"
)

// The sizes of encapsulated pixel data in bytes: what ultrasound devices write
// (common practice, no source), never more than the decoded picture has.
const (
	stillMin, stillMax = 300e3, 2e6
	clipMin, clipMax   = 1.1e6, 30e6
)

// encapsulated tells a syntax whose pixel data are fragments (PS3.5 A.4): of the
// sources' syntaxes all but the two that are native.
func encapsulated(h *header) bool {
	for _, e := range h.meta {
		if e.tag == tagTransferSyntax {
			uid := strings.TrimRight(string(e.value), "\x00 ")
			return uid != implicitLE && uid != explicitLE
		}
	}
	return false
}

const explicitLE = "1.2.840.10008.1.2.1"

// write writes a header and pixel data that are holes: the lengths of real ones,
// and no space on the disk.
func write(path string, s source, h *header, r *rand.Rand) error {
	file, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return fmt.Errorf("writing the tree: %w", err)
	}
	out := h.encode()
	size := int64(len(out))
	switch {
	case !h.hasPixels:
	case encapsulated(h):
		out = appendHead(out, tagPixelData, h.pixelVR, undefinedLength, false)
		size, err = writeFragments(file, out, fragments(s, r))
	default:
		out = appendHead(out, tagPixelData, h.pixelVR, uint32(s.native+s.native%2), h.implicit)
		size = int64(len(out)) + s.native + s.native%2
	}
	if err == nil && !(h.hasPixels && encapsulated(h)) {
		_, err = file.WriteAt(out, 0)
	}
	if err == nil {
		err = file.Truncate(size)
	}
	if closing := file.Close(); err == nil {
		err = closing
	}
	if err != nil {
		return fmt.Errorf("writing the tree: %w", err)
	}
	return nil
}

// fragments are the even lengths of one fragment a frame: evenly over the
// logarithm of the whole size, and each frame a little bigger or smaller.
func fragments(s source, r *rand.Rand) []uint32 {
	low, high := stillMin, stillMax
	if s.kind == clip {
		low, high = clipMin, clipMax
	}
	high = math.Min(high, float64(s.native))
	low = math.Min(low, high)
	frame := low * math.Pow(high/low, r.Float64()) / float64(s.frames)
	lengths := make([]uint32, s.frames)
	for i := range lengths {
		lengths[i] = uint32(frame*(0.9+0.1*r.Float64())) &^ 1
	}
	return lengths
}

// writeFragments writes the head, the offset table, one fragment a frame and the
// delimiter (PS3.5 A.4), and returns the size of the file.
func writeFragments(file *os.File, head []byte, lengths []uint32) (int64, error) {
	const itemHead = 8
	out := appendHead(head, tagItem, "", uint32(4*len(lengths)), true)
	var offset uint32
	for _, n := range lengths {
		out = le.AppendUint32(out, offset)
		offset += itemHead + n
	}
	var at int64
	for _, n := range lengths {
		out = appendHead(out, tagItem, "", n, true)
		if _, err := file.WriteAt(out, at); err != nil {
			return 0, err
		}
		at += int64(len(out)) + int64(n)
		out = out[:0]
	}
	out = appendHead(out, tagSequenceEnd, "", 0, true)
	_, err := file.WriteAt(out, at)
	return at + int64(len(out)), err
}
