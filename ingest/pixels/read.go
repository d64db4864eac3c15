package pixels

import (
	"errors"
	"fmt"
	"io"
	"math"

	"leadline/ingest/dcm"
)

// NotDecodedError says why the first frame of a file was not unpacked. It names forms,
// lengths and limits, never a value that could identify someone.
type NotDecodedError struct{ Reason string }

func (e *NotDecodedError) Error() string { return e.Reason }

func notDecoded(format string, args ...any) error {
	return &NotDecodedError{Reason: fmt.Sprintf(format, args...)}
}

// maxPixels bounds one frame: that of a screen of 3840 by 2160 pixels, the largest that
// devices show pictures on (common practice, no source), with a little room.
const maxPixels = 1 << 23

// First reads the first frame of the file that r holds, of size bytes. The error is a
// *NotDecodedError, or one of reading. A fault in a decoder is an error, not a panic.
func First(r io.ReaderAt, size int64) (f *Frame, err error) {
	defer func() {
		if recover() != nil {
			f, err = nil, notDecoded("the decoder met what it cannot take")
		}
	}()
	var s dcm.Scanner
	header, place, err := s.ScanPicture(r, size)
	switch {
	case errors.As(err, new(*dcm.FormatError)), errors.As(err, new(*dcm.LimitError)), errors.Is(err, dcm.ErrNotDICOM):
		return nil, notDecoded("the header cannot be read: %s", err)
	case err != nil:
		return nil, err
	}
	d, err := describe(header, place)
	if err != nil {
		return nil, err
	}
	from := &file{r, size}
	if place.Inflated != nil {
		from = &file{place.Inflated, math.MaxInt64}
	}
	return d.read(from)
}

// file is what pixels are read from.
type file struct {
	r    io.ReaderAt
	size int64
}

// at returns the n bytes at off.
func (f *file) at(off, n int64) ([]byte, error) {
	if off < 0 || n < 0 || n > f.size || off > f.size-n {
		return nil, notDecoded("the pixel data are cut short")
	}
	b := make([]byte, n)
	if got, err := f.r.ReadAt(b, off); int64(got) < n {
		if err == nil || errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
			return nil, notDecoded("the pixel data are cut short")
		}
		return nil, fmt.Errorf("reading pixel data: %w", err)
	}
	return b, nil
}

// read unpacks the first frame as its transfer syntax says.
func (d *description) read(f *file) (*Frame, error) {
	if !d.place.Open {
		if d.place.Length < d.nativeBytes() {
			return nil, notDecoded("the pixel data are cut short") // what follows is not of the picture
		}
		b, err := f.at(d.place.Offset, d.nativeBytes())
		if err != nil {
			return nil, err
		}
		return d.native(b)
	}
	b, err := d.fragments(f)
	if err != nil {
		return nil, err
	}
	if d.syntax == rleLossless {
		if b, err = unpackRLE(b, d); err != nil {
			return nil, err
		}
		return d.shape(b)
	}
	return d.jpeg(b)
}
