package pixels

import "encoding/binary"

// native brings an uncompressed frame into shape.
func (d *description) native(b []byte) (*Frame, error) {
	if d.photometric == "YBR_FULL_422" {
		return d.pairs(b)
	}
	if d.allocated == 8 && d.place.Big && d.place.VR.Is("OW") {
		swapPairs(b) // samples of 8 bits lie in words of 16 (PS3.5 8.1.1)
	}
	if d.allocated == 16 && d.place.Big {
		swapPairs(b)
	}
	if d.planar && d.samples == 3 {
		b = d.interleave(b)
	}
	return d.shape(b)
}

func swapPairs(b []byte) {
	for i := 0; i+1 < len(b); i += 2 {
		b[i], b[i+1] = b[i+1], b[i]
	}
}

// interleave turns three planes into pixels.
func (d *description) interleave(b []byte) []byte {
	out := make([]byte, len(b))
	width := d.allocated / 8
	for s := range d.samples {
		plane := b[s*d.plane()*width:]
		for i := range d.plane() {
			copy(out[(i*d.samples+s)*width:], plane[i*width:(i+1)*width])
		}
	}
	return out
}

// pairs spreads the samples Y Y Cb Cr of two pixels, the second of which lies to the
// right of the first.
func (d *description) pairs(b []byte) (*Frame, error) {
	if d.columns%2 == 1 {
		return nil, notDecoded("YBR_FULL_422 of an odd number of columns")
	}
	f := &Frame{Columns: d.columns, Rows: d.rows, Colour: YCbCr, Pix: make([]byte, 3*d.plane())}
	for i := 0; i < d.plane(); i += 2 {
		p := b[2*i : 2*i+4]
		copy(f.Pix[3*i:], []byte{p[0], p[2], p[3], p[1], p[2], p[3]})
	}
	return f, nil
}

// shape makes a frame of samples that lie pixel by pixel, little endian.
func (d *description) shape(b []byte) (*Frame, error) {
	f := &Frame{Columns: d.columns, Rows: d.rows}
	switch {
	case d.palette != nil:
		f.Colour, f.Pix = RGB, d.palette.colours(d.indices(b))
		return f, nil
	case d.samples == 3 && d.photometric == "YBR_FULL":
		f.Colour = YCbCr
	case d.samples == 3:
		f.Colour = RGB
	}
	f.Pix = b
	if d.allocated == 16 {
		f.Pix = make([]byte, len(b)/2)
		for i := range f.Pix {
			f.Pix[i] = d.highest(binary.LittleEndian.Uint16(b[2*i:]))
		}
	} else if d.stored < 8 {
		for i, v := range b {
			f.Pix[i] = d.highest(uint16(v))
		}
	}
	if d.photometric == "MONOCHROME1" {
		for i, v := range f.Pix {
			f.Pix[i] = 255 - v
		}
	}
	return f, nil
}

// highest is a sample with its stored bits moved to the highest of eight.
func (d *description) highest(v uint16) byte {
	v &= 1<<d.stored - 1
	if d.stored >= 8 {
		return byte(v >> (d.stored - 8))
	}
	return byte(v << (8 - d.stored))
}

// indices are the places in a palette.
func (d *description) indices(b []byte) []uint16 {
	out := make([]uint16, d.plane())
	for i := range out {
		if d.allocated == 16 {
			out[i] = binary.LittleEndian.Uint16(b[2*i:])
		} else {
			out[i] = uint16(b[i])
		}
		out[i] &= 1<<d.stored - 1
	}
	return out
}
