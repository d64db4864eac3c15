package ingest

import (
	"errors"
	"fmt"
	"io"
	"io/fs"

	"leadline/ingest/dcm"
	"leadline/ingest/pixels"
)

// errOnePass tells a member that is not come back to: each would cost all before it.
var errOnePass = &pixels.NotDecodedError{Reason: "it stands in an archive that is only read from front to end; unpack that"}

// FirstFrame reads the first frame of an image of an archive that was loaded with
// Options.Pictures. The error is a *pixels.NotDecodedError where the file holds no
// picture that is unpacked, or one of reading. It is safe for concurrent use.
func (a *Archive) FirstFrame(inst *Instance) (*pixels.Frame, error) {
	open, known := a.pictures[inst]
	switch {
	case !known:
		return nil, errors.New("its place was not kept: the archive was loaded without pictures")
	case open == nil:
		return nil, errOnePass
	}
	body, err := open()
	if err != nil {
		return nil, fmt.Errorf("opening a picture: %s", reasonOf(err)) // without the path, which may be a name
	}
	defer body.Close()
	frame, err := firstOf(body, inst.Bytes)
	if err != nil && !errors.As(err, new(*pixels.NotDecodedError)) {
		return nil, errors.New(reasonOf(err))
	}
	return frame, err
}

func firstOf(body io.Reader, size int64) (*pixels.Frame, error) {
	if file, ok := body.(sized); ok {
		return ofFile(file)
	}
	return pixels.First(&prefix{r: body}, size)
}

// sized is a file of its own.
type sized interface {
	io.ReaderAt
	Stat() (fs.FileInfo, error)
}

func ofFile(f sized) (*pixels.Frame, error) {
	info, err := f.Stat()
	if err != nil || !info.Mode().IsRegular() {
		return nil, errors.New("no longer a regular file")
	}
	return pixels.First(f, info.Size())
}

// picturesOf keeps how every image is opened again: by its path as it was met, or as
// a member of its container, nil where that would cost all that stands before it.
func picturesOf(rows []*row) map[*Instance]opener {
	pictures := map[*Instance]opener{}
	for _, r := range rows {
		switch {
		case r.inst == nil || r.inst.Image == nil:
		case r.again == nil:
			path := r.entry.Path
			pictures[r.inst] = func() (io.ReadCloser, error) { return openNow(path) }
		case r.direct:
			pictures[r.inst] = r.again
		default:
			pictures[r.inst] = nil
		}
	}
	return pictures
}

// maxPrefix is how far into a member of a container its first frame is looked for.
const maxPrefix = 32 << 20

// prefix is the beginning of a stream, read as far as it is asked for.
type prefix struct {
	r   io.Reader
	buf []byte
	err error
}

func (p *prefix) ReadAt(b []byte, off int64) (int, error) {
	end := off + int64(len(b))
	if end > maxPrefix {
		return 0, &dcm.LimitError{What: "bytes of a member before its first frame ends; unpack the archive", Limit: maxPrefix, Offset: off}
	}
	if need := int(end) - len(p.buf); need > 0 && p.err == nil {
		at := len(p.buf)
		p.buf = append(p.buf, make([]byte, need)...)
		got, err := io.ReadFull(p.r, p.buf[at:])
		p.buf, p.err = p.buf[:at+got], err
	}
	if off >= int64(len(p.buf)) {
		return 0, p.failed()
	}
	n := copy(b, p.buf[off:])
	if n < len(b) {
		return n, p.failed()
	}
	return n, nil
}

// failed is why the stream went no further.
func (p *prefix) failed() error {
	if p.err == nil || errors.Is(p.err, io.ErrUnexpectedEOF) {
		return io.EOF
	}
	return p.err
}
