package demo

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"math"

	"golang.org/x/image/font"
	"golang.org/x/image/font/basicfont"
	"golang.org/x/image/math/fixed"
)

// canvas is one frame being drawn.
type canvas struct{ *image.RGBA }

func newCanvas(columns, rows int) canvas {
	c := canvas{image.NewRGBA(image.Rect(0, 0, columns, rows))}
	for i := 3; i < len(c.Pix); i += 4 {
		c.Pix[i] = 255
	}
	return c
}

func (c canvas) grey(x, y int, level float64) { c.rgb(x, y, level, level, level) }

// rgb sets a pixel; parts are 0 to 1, more is cut.
func (c canvas) rgb(x, y int, r, g, b float64) {
	if !(image.Point{X: x, Y: y}.In(c.Rect)) {
		return
	}
	i := c.PixOffset(x, y)
	c.Pix[i], c.Pix[i+1], c.Pix[i+2] = eightBits(r), eightBits(g), eightBits(b)
}

func eightBits(v float64) uint8 { return uint8(255*math.Min(math.Max(v, 0), 1) + 0.5) }

func (c canvas) bar(x0, y0, x1, y1 int, level float64) {
	for y := y0; y <= y1; y++ {
		for x := x0; x <= x1; x++ {
			c.grey(x, y, level)
		}
	}
}

// frameBox draws the outline of a box, dotted.
func (c canvas) frameBox(x0, y0, x1, y1 int, level float64) {
	for x := x0; x <= x1; x += 2 {
		c.grey(x, y0, level)
		c.grey(x, y1, level)
	}
	for y := y0; y <= y1; y += 2 {
		c.grey(x0, y, level)
		c.grey(x1, y, level)
	}
}

// caption writes a line of text whose top left corner is (x, y).
func (c canvas) caption(x, y int, text string) {
	face := basicfont.Face7x13
	d := font.Drawer{Dst: c.RGBA, Src: image.NewUniform(color.Gray{Y: 200}), Face: face, Dot: fixed.P(x, y+face.Ascent)}
	d.DrawString(text)
}

// half is the frame at half its size, the mean of each four pixels.
func (c canvas) half() canvas {
	out := newCanvas(c.Rect.Dx()/2, c.Rect.Dy()/2)
	for y := range out.Rect.Dy() {
		for x := range out.Rect.Dx() {
			for k := range 3 {
				a, b := c.PixOffset(2*x, 2*y)+k, c.PixOffset(2*x, 2*y+1)+k
				sum := int(c.Pix[a]) + int(c.Pix[a+4]) + int(c.Pix[b]) + int(c.Pix[b+4])
				out.Pix[out.PixOffset(x, y)+k] = uint8((sum + 2) / 4)
			}
		}
	}
	return out
}

// samples hands out the pixels as stored: one sample of grey, or three of colour
// interleaved by pixel (Planar Configuration 0).
func (c canvas) samples(colour bool) []byte {
	out := make([]byte, 0, len(c.Pix))
	for i := 0; i < len(c.Pix); i += 4 {
		if colour {
			out = append(out, c.Pix[i:i+3]...)
		} else {
			out = append(out, c.Pix[i])
		}
	}
	return out
}

// jpeg packs the frame as baseline JPEG, grey as one component.
func (c canvas) jpeg(colour bool, quality int) ([]byte, error) {
	var source image.Image = c.RGBA
	if !colour {
		source = &image.Gray{Pix: c.samples(false), Stride: c.Rect.Dx(), Rect: c.Rect}
	}
	var out bytes.Buffer
	if err := jpeg.Encode(&out, source, &jpeg.Options{Quality: quality}); err != nil {
		return nil, fmt.Errorf("packing a frame as JPEG: %w", err)
	}
	return out.Bytes(), nil
}
