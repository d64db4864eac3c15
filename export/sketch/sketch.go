// Package sketch draws where the regions of a picture lie, in plain characters.
package sketch

import (
	"math"
	"slices"
	"strconv"
	"strings"
)

// Box is a region by its inclusive pixel bounds.
type Box struct {
	Number         int
	X0, Y0, X1, Y1 int
}

// tall is how much higher than wide a character is on most screens and in print.
const tall = 2.0

// most are the lines of a drawing; a picture far higher than wide is drawn narrower.
const most = 40

// Draw is the picture (dotted) with its boxes in proportion, each with its number
// in the first corner that is free, on lines of at most width characters. A box that
// reaches beyond the picture is drawn beyond it. It is nil where there is nothing to
// draw. Boxes lie over those before them.
func Draw(columns, rows int, boxes []Box, width int) []string {
	boxes = slices.DeleteFunc(slices.Clone(boxes), func(b Box) bool { return b.X1 < b.X0 || b.Y1 < b.Y0 })
	all := append([]Box{{X1: columns - 1, Y1: rows - 1}}, boxes...)
	left, top, right, bottom := 0, 0, 0, 0
	for _, b := range all {
		left, top = min(left, b.X0), min(top, b.Y0)
		right, bottom = max(right, b.X1+1), max(bottom, b.Y1+1)
	}
	if columns < 1 || rows < 1 || len(boxes) == 0 || right-left > beyond*columns || bottom-top > beyond*rows {
		return nil
	}
	// Pixels to a character, so that both directions fit.
	scale := math.Max(float64(right-left)/float64(width), float64(bottom-top)/tall/most)
	c := canvas{scale: scale, left: left, top: top}
	w, h := int(math.Ceil(float64(right-left)/scale)), int(math.Ceil(float64(bottom-top)/scale/tall))
	for range max(h, 2) {
		c.lines = append(c.lines, []byte(strings.Repeat(" ", min(max(w, 2), width))))
	}
	for i, b := range all {
		c.box(b, i == 0)
	}
	for _, b := range boxes {
		c.number(b)
	}
	out := make([]string, len(c.lines))
	for i, line := range c.lines {
		out[i] = strings.TrimRight(string(line), " ")
	}
	return out
}

// beyond is how many times as large as the picture a drawing may be: bounds that
// reach further are no place.
const beyond = 4

type canvas struct {
	lines     [][]byte
	scale     float64
	left, top int
}

// first is the character that the left or upper edge of pixel (x, y) lies in.
func (c *canvas) first(x, y int) (column, line int) {
	column = int(float64(x-c.left) / c.scale)
	line = int(float64(y-c.top) / c.scale / tall)
	return min(column, len(c.lines[0])-1), min(line, len(c.lines)-1)
}

// last is the character that its right or lower edge lies in.
func (c *canvas) last(x, y int) (column, line int) {
	column = int(math.Ceil(float64(x+1-c.left)/c.scale)) - 1
	line = int(math.Ceil(float64(y+1-c.top)/c.scale/tall)) - 1
	return min(column, len(c.lines[0])-1), min(line, len(c.lines)-1)
}

func (c *canvas) box(b Box, picture bool) {
	across, down, corner := byte('-'), byte('|'), byte('+')
	if picture {
		across, down, corner = '.', ':', '.'
	}
	x0, y0 := c.first(b.X0, b.Y0)
	x1, y1 := c.last(b.X1, b.Y1)
	for x := x0; x <= x1; x++ {
		c.lines[y0][x], c.lines[y1][x] = across, across
	}
	for y := y0; y <= y1; y++ {
		c.lines[y][x0], c.lines[y][x1] = down, down
	}
	for _, y := range []int{y0, y1} {
		c.lines[y][x0], c.lines[y][x1] = corner, corner
	}
}

// number writes the number of a box on its upper edge, further right where another
// number stands.
func (c *canvas) number(b Box) {
	text := strconv.Itoa(b.Number)
	x0, y0 := c.first(b.X0, b.Y0)
	for x := x0 + 2; x+len(text) <= len(c.lines[y0]); x++ {
		if !strings.ContainsAny(string(c.lines[y0][x-1:min(x+len(text)+1, len(c.lines[y0]))]), "0123456789") {
			copy(c.lines[y0][x:], text)
			return
		}
	}
	copy(c.lines[y0][min(x0, len(c.lines[y0])-len(text)):], text)
}
