package pixels

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/jpeg"
)

// jpeg unpacks a frame of JPEG baseline. Its own header must say what the file's says
// before the decoder makes room for it.
func (d *description) jpeg(b []byte) (*Frame, error) {
	h, err := frameHeader(b)
	if err != nil {
		return nil, err
	}
	if h.columns != d.columns || h.rows != d.rows || h.components != d.samples {
		return nil, notDecoded("JPEG data of %d by %d pixels of %d samples, and the header says %d by %d of %d",
			h.columns, h.rows, h.components, d.columns, d.rows, d.samples)
	}
	// What the decoder itself takes for the frame header must be the same one.
	if c, err := jpeg.DecodeConfig(bytes.NewReader(b)); err != nil || c.Width != h.columns || c.Height != h.rows {
		return nil, notDecoded("JPEG data that are damaged")
	}
	picture, err := jpeg.Decode(bytes.NewReader(b))
	if err != nil {
		return nil, notDecoded("JPEG data that are damaged") // the decoder's words may repeat bytes of the file
	}
	f := &Frame{Columns: d.columns, Rows: d.rows, Pix: make([]byte, d.samples*d.plane())}
	if d.samples == 3 {
		f.Colour = d.colourOfJPEG(picture)
	}
	if !f.take(picture) {
		return nil, notDecoded("JPEG data of an unknown kind")
	}
	return d.finish(f)
}

// finish does to the samples of a JPEG frame what shape does to others.
func (d *description) finish(f *Frame) (*Frame, error) {
	if f.Colour == Grey {
		return d.shape(f.Pix)
	}
	return f, nil
}

// colourOfJPEG is what the samples are: as the header says, except where the JPEG data
// say by a marker of their own that they are RGB.
func (d *description) colourOfJPEG(picture image.Image) Colour {
	if _, plain := picture.(*image.RGBA); plain || d.photometric == "RGB" {
		return RGB
	}
	return YCbCr
}

// take copies the samples of a decoded picture.
func (f *Frame) take(picture image.Image) bool {
	switch p := picture.(type) {
	case *image.Gray:
		for y := range f.Rows {
			copy(f.Pix[y*f.Columns:(y+1)*f.Columns], p.Pix[y*p.Stride:])
		}
	case *image.YCbCr:
		for y := range f.Rows {
			for x := range f.Columns {
				i, c := 3*(y*f.Columns+x), p.COffset(x, y)
				f.Pix[i], f.Pix[i+1], f.Pix[i+2] = p.Y[p.YOffset(x, y)], p.Cb[c], p.Cr[c]
			}
		}
	case *image.RGBA:
		for y := range f.Rows {
			for x := range f.Columns {
				copy(f.Pix[3*(y*f.Columns+x):], p.Pix[p.PixOffset(x, y):][:3])
			}
		}
	default:
		return false
	}
	return true
}

// frameOfJPEG is what the frame header of JPEG data says.
type frameOfJPEG struct{ columns, rows, components int }

// frameHeader finds the frame header (ISO 10918-1 B.2.2) and wants it to be of the
// baseline or extended sequential kind with 8 bits a sample: progressive data would
// be given room many times their size.
func frameHeader(b []byte) (h frameOfJPEG, err error) {
	if len(b) < 2 || b[0] != 0xFF || b[1] != 0xD8 {
		return h, notDecoded("JPEG data without their first marker")
	}
	for at := 2; at+4 <= len(b); {
		marker := b[at+1]
		switch {
		case b[at] != 0xFF:
			return h, notDecoded("JPEG data that are damaged")
		case marker == 0xFF: // fill byte
			at++
			continue
		case standsAlone(marker):
			return h, notDecoded("JPEG data with a marker that is out of place")
		case marker == 0xDA:
			return h, notDecoded("JPEG data without a frame header")
		}
		length := int(binary.BigEndian.Uint16(b[at+2:]))
		if length < 2 || at+2+length > len(b) {
			return h, notDecoded("JPEG data that are cut short")
		}
		if isFrameHeader(marker) {
			return sequential(marker, b[at+4:at+2+length])
		}
		at += 2 + length
	}
	return h, notDecoded("JPEG data without a frame header")
}

// standsAlone tells the markers without a length (ISO 10918-1 Table B.1), and zero, which
// is none: before a frame header they lead two readers to different places.
func standsAlone(marker byte) bool {
	return marker <= 0x01 || marker >= 0xD0 && marker <= 0xD9
}

// isFrameHeader tells the markers SOF0 to SOF15, which are C0 to CF without DHT (C4),
// JPG (C8) and DAC (CC).
func isFrameHeader(marker byte) bool {
	return marker&0xF0 == 0xC0 && marker != 0xC4 && marker != 0xC8 && marker != 0xCC
}

func sequential(marker byte, b []byte) (h frameOfJPEG, err error) {
	if marker != 0xC0 && marker != 0xC1 {
		return h, notDecoded("JPEG data that are not sequential")
	}
	if len(b) < 6 || b[0] != 8 {
		return h, notDecoded("JPEG data that are not of 8 bits")
	}
	return frameOfJPEG{
		rows: int(binary.BigEndian.Uint16(b[1:])), columns: int(binary.BigEndian.Uint16(b[3:])), components: int(b[5]),
	}, nil
}
