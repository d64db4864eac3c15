package pixels

import (
	"bytes"
	"encoding/binary"
	"errors"
	"image"
	"image/color"
	"image/jpeg"
	"slices"
	"strings"
	"testing"
)

// picture is a file that is written for a test: an explicit little endian data set of
// an image pixel module.
type picture struct {
	syntax                 string
	rows, columns, samples uint16
	allocated, stored      uint16
	photometric            string
	planar                 uint16
	frames                 string
	more                   []byte
	// native is one value, fragments (the basic offset table first) are encapsulated.
	native    []byte
	fragments [][]byte
	claimed   uint32
}

func element(group, number uint16, vr string, value []byte) []byte {
	b := binary.LittleEndian.AppendUint16(nil, group)
	b = binary.LittleEndian.AppendUint16(b, number)
	b = append(b, vr...)
	if len(value)%2 == 1 {
		value = append(value, ' ')
	}
	if vr == "OB" || vr == "OW" {
		b = append(b, 0, 0)
		b = binary.LittleEndian.AppendUint32(b, uint32(len(value)))
	} else {
		b = binary.LittleEndian.AppendUint16(b, uint16(len(value)))
	}
	return append(b, value...)
}

func number(group, n, v uint16) []byte {
	return element(group, n, "US", binary.LittleEndian.AppendUint16(nil, v))
}

func (p picture) bytes() []byte {
	uid := p.syntax
	if len(uid)%2 == 1 {
		uid += "\x00"
	}
	b := append(make([]byte, 128), "DICM"...)
	b = append(b, element(0x0002, 0x0010, "UI", []byte(uid))...)
	b = append(b, element(0x0008, 0x0060, "CS", []byte("US"))...)
	b = append(b, number(0x0028, 0x0002, p.samples)...)
	b = append(b, element(0x0028, 0x0004, "CS", []byte(p.photometric))...)
	b = append(b, number(0x0028, 0x0006, p.planar)...)
	if p.frames != "" {
		b = append(b, element(0x0028, 0x0008, "IS", []byte(p.frames))...)
	}
	b = append(b, number(0x0028, 0x0010, p.rows)...)
	b = append(b, number(0x0028, 0x0011, p.columns)...)
	b = append(b, number(0x0028, 0x0100, p.allocated)...)
	b = append(b, number(0x0028, 0x0101, p.stored)...)
	b = append(b, p.more...)
	if p.fragments == nil {
		return append(b, element(0x7FE0, 0x0010, "OW", p.native)...)
	}
	b = append(b, 0xE0, 0x7F, 0x10, 0x00, 'O', 'B', 0, 0, 0xFF, 0xFF, 0xFF, 0xFF)
	for _, f := range p.fragments {
		b = append(b, 0xFE, 0xFF, 0x00, 0xE0)
		b = binary.LittleEndian.AppendUint32(b, uint32(len(f))+p.claimed)
		b = append(b, f...)
	}
	return append(b, 0xFE, 0xFF, 0xDD, 0xE0, 0, 0, 0, 0)
}

const explicit = "1.2.840.10008.1.2.1"

// TestForms reads small pictures whose samples are given, form by form.
func TestForms(t *testing.T) {
	rle := func(segments ...[]byte) []byte {
		head := make([]byte, 64)
		binary.LittleEndian.PutUint32(head, uint32(len(segments)))
		for i, s := range segments {
			binary.LittleEndian.PutUint32(head[4+4*i:], uint32(len(head)))
			head = append(head, s...)
		}
		return head
	}
	for _, c := range []struct {
		name string
		p    picture
		want []byte
	}{
		{"grey", picture{syntax: explicit, rows: 1, columns: 3, samples: 1, allocated: 8, stored: 8, photometric: "MONOCHROME2", native: []byte{1, 2, 3}}, []byte{1, 2, 3}},
		{"white is 0", picture{syntax: explicit, rows: 1, columns: 2, samples: 1, allocated: 8, stored: 8, photometric: "MONOCHROME1", native: []byte{0, 255}}, []byte{255, 0}},
		{"12 bits", picture{syntax: explicit, rows: 1, columns: 2, samples: 1, allocated: 16, stored: 12, photometric: "MONOCHROME2", native: []byte{0xFF, 0x0F, 0x10, 0x08}}, []byte{255, 0x81}},
		{"planes", picture{syntax: explicit, rows: 1, columns: 2, samples: 3, allocated: 8, stored: 8, photometric: "RGB", planar: 1, native: []byte{1, 2, 3, 4, 5, 6}}, []byte{1, 3, 5, 2, 4, 6}},
		// PS3.3 C.7.6.3.1.2: two Y, then Cb and Cr of both.
		{"4:2:2", picture{syntax: explicit, rows: 1, columns: 2, samples: 3, allocated: 8, stored: 8, photometric: "YBR_FULL_422", native: []byte{10, 20, 30, 40}}, []byte{10, 30, 40, 20, 30, 40}},
		{"runs", picture{syntax: rleLossless, rows: 1, columns: 5, samples: 1, allocated: 8, stored: 8, photometric: "MONOCHROME2",
			fragments: [][]byte{{}, rle([]byte{0xFE, 7, 1, 8, 9})}}, []byte{7, 7, 7, 8, 9}}, // −2: three times; 1: two as they are (PS3.5 G.3.2)
		{"runs of 16 bits", picture{syntax: rleLossless, rows: 1, columns: 2, samples: 1, allocated: 16, stored: 16, photometric: "MONOCHROME2",
			fragments: [][]byte{{}, rle([]byte{1, 0x12, 0x34}, []byte{1, 0x56, 0x78})}}, []byte{0x12, 0x34}},
		{"the first of two frames", picture{syntax: rleLossless, rows: 1, columns: 2, samples: 1, allocated: 8, stored: 8, photometric: "MONOCHROME2", frames: "2",
			fragments: [][]byte{{}, rle([]byte{1, 5, 6}), rle([]byte{1, 7, 8})}}, []byte{5, 6}},
	} {
		got := wantWhole(t, c.p.bytes())
		if got == nil || !slices.Equal(got.Pix, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// TestSegments expands the three kinds of segment (PS3.3 C.7.9.2): two entries as they
// are, three on a line, and the first two once more.
func TestSegments(t *testing.T) {
	words := []uint16{0, 2, 0x0100, 0x0200, 1, 3, 0x0500, 2, 1, 0, 0}
	if got, ok := expand(words, 7); !ok || !slices.Equal(got, []byte{1, 2, 3, 4, 5, 1, 2}) {
		t.Errorf("%v %v", got, ok)
	}
	for _, bad := range [][]uint16{{2, 1, 0, 0}, {0, 9, 1}, {1, 2, 3}, {3, 0, 0}, {0, 0, 0, 2, 60000, 6, 0}} {
		if got, ok := expand(bad, 7); ok {
			t.Errorf("%v became %v", bad, got)
		}
	}
}

func grey(t *testing.T, columns, rows int) []byte {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, columns, rows))
	img.SetGray(1, 1, color.Gray{Y: 200})
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// TestRefused: what contradicts itself, asks for too much or is of another form is
// named, and never a picture.
func TestRefused(t *testing.T) {
	good := picture{syntax: explicit, rows: 4, columns: 4, samples: 1, allocated: 8, stored: 8, photometric: "MONOCHROME2", native: make([]byte, 16)}
	with := func(change func(*picture)) []byte {
		p := good
		change(&p)
		return p.bytes()
	}
	packed := func(syntax string, fragments ...[]byte) []byte {
		return with(func(p *picture) { p.syntax, p.fragments = syntax, append([][]byte{{}}, fragments...) })
	}
	large := grey(t, 64, 64)
	for _, c := range []struct {
		name, want string
		file       []byte
	}{
		{"cut", "cut short", with(func(p *picture) { p.native = p.native[:10] })},
		{"huge", "at most 8388608 pixels", with(func(p *picture) { p.rows, p.columns = 65535, 65535 })},
		{"no rows", "0 rows", with(func(p *picture) { p.rows = 0 })},
		{"four samples", "samples per pixel: 4", with(func(p *picture) { p.samples = 4 })},
		{"one bit", "bits allocated: 1", with(func(p *picture) { p.allocated, p.stored = 1, 1 })},
		{"stored beyond allocated", "bits stored: 17 of 16", with(func(p *picture) { p.allocated, p.stored = 16, 17 })},
		{"signed", "signed", with(func(p *picture) { p.more = number(0x0028, 0x0103, 1) })},
		{"unknown colour", "not grey", with(func(p *picture) { p.photometric = "HSV" })},
		{"palette without table", "palette", with(func(p *picture) { p.photometric = "PALETTE COLOR" })},
		{"JPEG 2000", "JPEG 2000", packed("1.2.840.10008.1.2.4.91", []byte{0xFF, 0x4F})},
		{"JPEG of another size", "64 by 64", packed(jpegBaseline, large)},
		{"no JPEG", "first marker", packed(jpegBaseline, []byte("not a picture"))},
		{"cut JPEG", "JPEG data", packed(jpegBaseline, large[:30])},
		{"progressive", "not sequential", packed(jpegBaseline, []byte{0xFF, 0xD8, 0xFF, 0xC2, 0, 11, 8, 0, 4, 0, 4, 1, 1, 0x11, 0})},
		{"12 bits", "not of 8 bits", packed(jpegBaseline, []byte{0xFF, 0xD8, 0xFF, 0xC1, 0, 11, 12, 0, 4, 0, 4, 1, 1, 0x11, 0})},
		{"RLE of no segment", "segments", packed(rleLossless, make([]byte, 64))},
		{"RLE too short", "RLE", packed(rleLossless, []byte{1, 0, 0, 0})},
		{"a fragment beyond the file", "cut short", with(func(p *picture) { p.syntax, p.fragments, p.claimed = jpegBaseline, [][]byte{{}}, 4 })},
		{"a fragment larger than its picture", "larger than its picture", packed(rleLossless, make([]byte, 1<<17))},
		{"compressed without fragments", "without fragments", with(func(p *picture) { p.syntax = jpegBaseline })},
		{"no pixels", "no pixel data", good.bytes()[:len(good.bytes())-28]},
	} {
		frame, err := First(bytes.NewReader(c.file), int64(len(c.file)))
		var refused *NotDecodedError
		if frame != nil || !errors.As(err, &refused) || !strings.Contains(refused.Reason, c.want) {
			t.Errorf("%s: %v %v, want %q", c.name, frame, err, c.want)
		}
	}
	if wantWhole(t, good.bytes()) == nil {
		t.Error("the good one is refused")
	}
}

// TestHostile: every hostile file has an answer, and none a picture it does not hold.
func TestHostile(t *testing.T) {
	for _, b := range seeds(t) {
		wantWhole(t, b)
	}
}

// BenchmarkFirst reads one frame of each usual form at 640 by 480.
func BenchmarkFirst(b *testing.B) {
	img := image.NewGray(image.Rect(0, 0, 640, 480))
	for i := range img.Pix {
		img.Pix[i] = byte(i * 7 % 251)
	}
	var packed bytes.Buffer
	if err := jpeg.Encode(&packed, img, &jpeg.Options{Quality: 75}); err != nil {
		b.Fatal(err)
	}
	base := picture{rows: 480, columns: 640, samples: 1, allocated: 8, stored: 8, photometric: "MONOCHROME2"}
	for name, p := range map[string]picture{"uncompressed": base, "jpeg": base} {
		p.syntax, p.native = explicit, img.Pix
		if name == "jpeg" {
			p.syntax, p.fragments = jpegBaseline, [][]byte{{}, packed.Bytes()}
		}
		file := p.bytes()
		b.Run(name, func(b *testing.B) {
			for range b.N {
				if _, err := First(bytes.NewReader(file), int64(len(file))); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
