package pixels

import "encoding/binary"

// rleHeader is the length of the header of an RLE frame: the number of segments and
// fifteen offsets (PS3.5 G.5).
const rleHeader = 64

// unpackRLE unpacks a frame of byte planes, the highest byte of each sample first
// (PS3.5 G.2), into pixels of little endian samples.
func unpackRLE(b []byte, d *description) ([]byte, error) {
	width := d.allocated / 8
	want := d.samples * width
	if len(b) < rleHeader || int64(binary.LittleEndian.Uint32(b)) != int64(want) {
		return nil, notDecoded("RLE data with another number of segments than %d", want)
	}
	out := make([]byte, want*d.plane())
	for i := range want {
		from, to := int64(binary.LittleEndian.Uint32(b[4+4*i:])), int64(len(b))
		if i+1 < want {
			to = int64(binary.LittleEndian.Uint32(b[8+4*i:]))
		}
		if from < rleHeader || to < from || to > int64(len(b)) {
			return nil, notDecoded("RLE data whose segments lie outside them")
		}
		sample, byteOf := i/width, width-1-i%width
		if !unpackBits(b[from:to], out, sample*width+byteOf, want, d.plane()) {
			return nil, notDecoded("RLE data that end before the picture is full")
		}
	}
	return out, nil
}

// unpackBits unpacks one segment (PS3.5 G.3.2) of n bytes to the places start,
// start+step, … of out. What is beyond n is padding.
func unpackBits(b, out []byte, start, step, n int) bool {
	at := start
	end := start + n*step
	for len(b) > 0 && at < end {
		count := int(int8(b[0]))
		b = b[1:]
		switch {
		case count == -128:
		case count < 0:
			if len(b) == 0 {
				return false
			}
			for ; count <= 0 && at < end; count++ {
				out[at] = b[0]
				at += step
			}
			b = b[1:]
		default:
			if len(b) <= count {
				return false
			}
			for i := 0; i <= count && at < end; i++ {
				out[at] = b[i]
				at += step
			}
			b = b[count+1:]
		}
	}
	return at >= end
}
