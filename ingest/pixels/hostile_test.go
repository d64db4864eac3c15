package pixels

import (
	"bytes"
	"errors"
	"strings"
	"testing"
	"testing/iotest"
)

// sparse is a file whose bytes beyond the first are zero, as far as anyone asks; it
// notes the largest piece that was asked for.
type sparse struct {
	head    []byte
	largest int
}

func (s *sparse) ReadAt(b []byte, off int64) (int, error) {
	s.largest = max(s.largest, len(b))
	clear(b)
	if off < int64(len(s.head)) {
		copy(b, s.head[off:])
	}
	return len(b), nil
}

// TestOffsetTable: an offset table of 4 GiB, which a sparse file holds for nothing, is
// not read to find the second frame.
func TestOffsetTable(t *testing.T) {
	p := picture{syntax: rleLossless, rows: 4, columns: 4, samples: 1, allocated: 8, stored: 8, photometric: "MONOCHROME2",
		frames: "2147483647", fragments: [][]byte{}}
	b := p.bytes()
	b = append(b[:len(b)-8], 0xFE, 0xFF, 0x00, 0xE0, 0xF0, 0xFF, 0xFF, 0xFF) // in place of the delimiter
	file := &sparse{head: b}
	frame, err := First(file, 10<<30)
	var refused *NotDecodedError
	if frame != nil || !errors.As(err, &refused) || !strings.Contains(refused.Reason, "fragments") {
		t.Errorf("%v %v", frame, err)
	}
	if file.largest > 1<<20 {
		t.Errorf("%d bytes at once", file.largest)
	}
}

// TestTwoReadings: JPEG data that this package and the decoder would read in different
// places are refused before the decoder makes room for what it finds: behind a marker
// without a length stands a progressive frame of 65,535 by 65,535, which a reader that
// takes it for one with a length never sees.
func TestTwoReadings(t *testing.T) {
	progressive := []byte{0xFF, 0xC2, 0, 11, 8, 0xFF, 0xFF, 0xFF, 0xFF, 1, 1, 0x11, 0}
	small := []byte{0xFF, 0xC0, 0, 11, 8, 0, 4, 0, 4, 1, 1, 0x11, 0}
	for _, alone := range []byte{0x00, 0x01, 0xD0, 0xD7, 0xD8, 0xD9} {
		b := append([]byte{0xFF, 0xD8, 0xFF, alone}, progressive...)
		b = append(b, make([]byte, 0xFFC2-len(progressive))...) // as far as FF C2 is, as a length
		b = append(append(b, small...), 0xFF, 0xDA, 0, 8, 1, 1, 0, 0, 63, 0)
		p := picture{syntax: jpegBaseline, rows: 4, columns: 4, samples: 1, allocated: 8, stored: 8, photometric: "MONOCHROME2", fragments: [][]byte{{}, b}}
		file := p.bytes()
		frame, err := First(bytes.NewReader(file), int64(len(file)))
		var refused *NotDecodedError
		if frame != nil || !errors.As(err, &refused) || !strings.Contains(refused.Reason, "out of place") {
			t.Errorf("%X: %v %v", alone, frame, err)
		}
	}
}

// TestPaletteClaims: a descriptor of another type than US can say any number.
func TestPaletteClaims(t *testing.T) {
	for _, claim := range []string{`2147483647\0\16`, `-5\0\16`, `65537\0\8`} {
		p := picture{syntax: explicit, rows: 1, columns: 2, samples: 1, allocated: 8, stored: 8, photometric: "PALETTE COLOR", native: []byte{0, 1},
			more: append(element(0x0028, 0x1101, "IS", []byte(claim)), element(0x0028, 0x1201, "OW", make([]byte, 8))...)}
		file := p.bytes()
		frame, err := First(bytes.NewReader(file), int64(len(file)))
		var refused *NotDecodedError
		if frame != nil || !errors.As(err, &refused) || !strings.Contains(refused.Reason, "a palette of") {
			t.Errorf("%s: %v %v", claim, frame, err)
		}
	}
}

// TestSegmentsOfNothing: segments of no entries, which could be followed billions of
// times, end the table.
func TestSegmentsOfNothing(t *testing.T) {
	for _, words := range [][]uint16{{0, 0, 0, 1, 5}, {0, 1, 7, 1, 0, 7, 0, 1, 7}, {2, 0, 0, 0, 0, 2, 1, 1}} {
		if got, ok := expand(words, 2); ok {
			t.Errorf("%v became %v", words, got)
		}
	}
}

// TestBehindThePixels: what follows pixel data that are too short is no picture.
func TestBehindThePixels(t *testing.T) {
	p := picture{syntax: explicit, rows: 4, columns: 4, samples: 1, allocated: 8, stored: 8, photometric: "MONOCHROME2", native: make([]byte, 8)}
	file := append(p.bytes(), element(0xFFFC, 0xFFFC, "OB", bytes.Repeat([]byte("Doe^Jane"), 8))...)
	if frame, err := First(bytes.NewReader(file), int64(len(file))); frame != nil || err == nil || !strings.Contains(err.Error(), "cut short") {
		t.Errorf("%v %v", frame, err)
	}
}

// TestReadingFails: an error of the disk is no fault of the picture.
func TestReadingFails(t *testing.T) {
	broken := failing{iotest.ErrTimeout}
	_, err := First(broken, 1<<20)
	if err == nil || errors.As(err, new(*NotDecodedError)) {
		t.Errorf("%v", err)
	}
}

type failing struct{ err error }

func (f failing) ReadAt([]byte, int64) (int, error) { return 0, f.err }
