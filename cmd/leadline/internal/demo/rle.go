package demo

import "encoding/binary"

// rleFrame packs one frame as RLE Lossless (PS3.5 Annex G): a header of sixteen
// 32-bit words (the number of segments, then their offsets), then one segment for
// each sample plane. pix holds samples interleaved by pixel.
func rleFrame(pix []byte, columns, samples int) []byte {
	const headerBytes = 64
	out := make([]byte, headerBytes)
	binary.LittleEndian.PutUint32(out, uint32(samples))
	plane := make([]byte, 0, len(pix)/samples)
	for s := range samples {
		binary.LittleEndian.PutUint32(out[4*(s+1):], uint32(len(out)))
		plane = plane[:0]
		for i := s; i < len(pix); i += samples {
			plane = append(plane, pix[i])
		}
		for row := 0; row < len(plane); row += columns {
			out = packBits(out, plane[row:row+columns])
		}
		if len(out)%2 == 1 {
			out = append(out, 0)
		}
	}
	return out
}

// packBits appends one row, which is packed apart from its neighbours (G.3.1).
// A count n of 0 to 127 stands before n+1 literal bytes, -n of -1 to -127 before
// a byte that is repeated n+1 times.
func packBits(out, row []byte) []byte {
	for i := 0; i < len(row); {
		run := runLength(row[i:])
		if run > 1 {
			out = append(out, byte(1-run), row[i])
			i += run
			continue
		}
		n := 1
		for i+n < len(row) && n < 128 && runLength(row[i+n:]) < 3 {
			n++
		}
		out = append(out, byte(n-1))
		out = append(out, row[i:i+n]...)
		i += n
	}
	return out
}

// runLength counts the equal bytes at the start of row, 128 at most.
func runLength(row []byte) int {
	n := 1
	for n < len(row) && n < 128 && row[n] == row[0] {
		n++
	}
	return n
}
