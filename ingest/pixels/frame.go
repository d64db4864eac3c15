package pixels

import "image/color"

// Colour says what the samples of a pixel are.
type Colour int

// The kinds of pixel: one grey sample; red, green, blue; or Y, Cb, Cr of full range.
const (
	Grey Colour = iota
	RGB
	YCbCr
)

// Frame is one unpacked frame. Pix holds the samples of 8 bits pixel after pixel, rows
// from the top: one to a pixel for Grey, else three. Deeper samples are cut to their
// highest 8 bits, palette colours are looked up, MONOCHROME1 is turned so that 255 is
// white.
type Frame struct {
	Columns, Rows int
	Colour        Colour
	Pix           []byte
}

// Samples is how many there are to a pixel.
func (f *Frame) Samples() int {
	if f.Colour == Grey {
		return 1
	}
	return 3
}

// Brightness is one value a pixel, 0 to 255: the largest of red, green and blue, so
// that a coloured tick is as bright as a white one.
func (f *Frame) Brightness() []byte {
	if f.Colour == Grey {
		return f.Pix
	}
	out := make([]byte, f.Columns*f.Rows)
	for i := range out {
		r, g, b := f.Pix[3*i], f.Pix[3*i+1], f.Pix[3*i+2]
		if f.Colour == YCbCr {
			r, g, b = color.YCbCrToRGB(r, g, b)
		}
		out[i] = max(r, g, b)
	}
	return out
}
