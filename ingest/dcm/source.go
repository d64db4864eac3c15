package dcm

import (
	"compress/flate"
	"errors"
	"fmt"
	"io"
)

// source hands out bytes of a stream in ascending order.
type source interface {
	// at returns n bytes from off on; they are valid until the next call. It
	// fails with io.ErrUnexpectedEOF where the stream ends before.
	at(off int64, n int) ([]byte, error)
	// window is what at could answer without reading, and where it begins; it is
	// valid until the next call of at.
	window() ([]byte, int64)
	// length is where the stream ends: exact, or else an upper bound.
	length() int64
	exact() bool
}

// firstRead is how much of a file is read at once: it holds the whole header of
// nearly every ultrasound file. laterRead bounds the later reads.
const (
	firstRead = 16 << 10
	laterRead = 64 << 10
)

// fileSource reads a window of a file; the window moves where it is asked to.
type fileSource struct {
	r     io.ReaderAt
	size  int64
	buf   []byte
	start int64
	// read counts the bytes read so far.
	read int64
}

func (s *fileSource) length() int64 { return s.size }
func (s *fileSource) exact() bool   { return true }

func (s *fileSource) window() ([]byte, int64) { return s.buf, s.start }

func (s *fileSource) reset(r io.ReaderAt, size int64) {
	s.r, s.size, s.start, s.read = r, size, 0, 0
	s.buf = s.buf[:0]
}

func (s *fileSource) at(off int64, n int) ([]byte, error) {
	if off >= s.start && off+int64(n) <= s.start+int64(len(s.buf)) {
		i := int(off - s.start)
		return s.buf[i : i+n], nil
	}
	if off < 0 || off+int64(n) > s.size {
		return nil, io.ErrUnexpectedEOF
	}
	if err := s.fill(off, n); err != nil {
		return nil, err
	}
	return s.buf[:n], nil
}

// fill moves the window to off. Reading on from where the window ended takes
// larger steps; a jump over a skipped value takes a small one.
func (s *fileSource) fill(off int64, n int) error {
	step := firstRead
	if len(s.buf) > 0 && off <= s.start+int64(len(s.buf)) {
		step = min(2*len(s.buf), laterRead)
	}
	step = max(step, n)
	if rest := s.size - off; int64(step) > rest {
		step = int(rest)
	}
	if cap(s.buf) < step {
		s.buf = make([]byte, step)
	}
	s.buf, s.start = s.buf[:step], off
	got, err := s.r.ReadAt(s.buf, off)
	s.read += int64(got)
	if got < step {
		s.buf = s.buf[:0]
		if err == nil || errors.Is(err, io.EOF) {
			return fmt.Errorf("reading %d bytes at offset %d: the file has become shorter: %w", step, off, io.ErrUnexpectedEOF)
		}
		return fmt.Errorf("reading %d bytes at offset %d: %w", step, off, err)
	}
	return nil
}

// maxInflated bounds how far into a stream is read to reach the end of a header:
// a compressed megabyte can hide a gigabyte.
const maxInflated = 32 << 20

// streamSource reads a stream that only goes forward, as far as it is asked for,
// and keeps only a window of it: a deflated data set (raw RFC 1951, PS3.5 A.5), or
// a member of a compressed archive.
type streamSource struct {
	r     io.Reader
	buf   []byte
	start int64
	// size is where the stream ends, or, where that is not known, how far it may
	// be read.
	size  int64
	known bool
	ended bool
	// read counts the bytes taken from the stream.
	read int64
}

func newInflateSource(r io.Reader) *streamSource {
	return &streamSource{r: flate.NewReader(r), size: maxInflated}
}

func (s *streamSource) length() int64 { return s.size }
func (s *streamSource) exact() bool   { return s.known }

func (s *streamSource) window() ([]byte, int64) {
	limit := int64(maxInflated)
	if s.known {
		limit = min(limit, s.size)
	}
	return s.buf[:max(min(int64(len(s.buf)), limit-s.start), 0)], s.start
}

func (s *streamSource) at(off int64, n int) ([]byte, error) {
	if off < s.start {
		return nil, fmt.Errorf("reading a stream at offset %d: the window has moved on", off)
	}
	if s.known && off+int64(n) > s.size {
		return nil, io.ErrUnexpectedEOF
	}
	if off+int64(n) > maxInflated {
		return nil, &LimitError{What: "bytes of a compressed header", Limit: maxInflated, Offset: off}
	}
	for off+int64(n) > s.start+int64(len(s.buf)) {
		if err := s.more(off); err != nil {
			return nil, err
		}
	}
	i := int(off - s.start)
	return s.buf[i : i+n], nil
}

// more drops what lies before off and reads the next piece.
func (s *streamSource) more(off int64) error {
	if s.ended {
		return io.ErrUnexpectedEOF
	}
	drop := min(max(off-s.start, 0), int64(len(s.buf)))
	s.buf = append(s.buf[:0], s.buf[drop:]...)
	s.start += drop
	at := len(s.buf)
	s.buf = append(s.buf, make([]byte, firstRead)...)
	got, err := s.readFull(s.buf[at:])
	s.buf = s.buf[:at+got]
	s.read += int64(got)
	switch {
	case errors.Is(err, io.EOF):
		s.ended = true
		if got > 0 {
			return nil
		}
		return io.ErrUnexpectedEOF
	case errors.As(err, new(*LimitError)):
		return err
	case err != nil:
		return fmt.Errorf("at offset %d of a compressed stream: the data are damaged or cut short (%s)", s.start+int64(at+got), err)
	}
	return nil
}

// readFull fills b as far as the stream goes. Unlike io.ReadFull it keeps the
// clean end of a stream (io.EOF) apart from one that is cut.
func (s *streamSource) readFull(b []byte) (int, error) {
	n := 0
	for n < len(b) {
		got, err := s.r.Read(b[n:])
		n += got
		if err != nil {
			return n, err
		}
	}
	return n, nil
}

// sequential reads a source from an offset on, for a stream inside a stream.
type sequential struct {
	s   source
	off int64
}

func (q *sequential) Read(b []byte) (int, error) {
	n := int64(len(b))
	if rest := q.s.length() - q.off; rest < n {
		n = rest
	}
	if n <= 0 {
		return 0, io.EOF
	}
	got, err := q.s.at(q.off, int(n))
	if err != nil {
		return 0, err
	}
	q.off += n
	return copy(b, got), nil
}
