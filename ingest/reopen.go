package ingest

import (
	"archive/tar"
	"archive/zip"
	"crypto/sha256"
	"errors"
	"io"
	"sync"
)

// opener opens the bytes of a file again, for comparing copies.
type opener func() (io.ReadCloser, error)

// place opens the bytes of a container again; done closes them.
type place func() (r io.ReaderAt, done func(), err error)

// placeOf is a container that is a file of its own.
func placeOf(path string) place {
	return func() (io.ReaderAt, func(), error) {
		f, err := openNow(path)
		if err != nil {
			return nil, nil, err
		}
		return f, func() { f.Close() }, nil
	}
}

// stretch is a container that stands uncompressed in another.
func (p place) stretch(offset, size int64) place {
	return func() (io.ReaderAt, func(), error) {
		r, done, err := p()
		if err != nil {
			return nil, nil, err
		}
		return io.NewSectionReader(r, offset, size), done, nil
	}
}

type closing struct {
	io.Reader
	done func()
}

func (c *closing) Close() error {
	c.done()
	return nil
}

// direct tells that a member is come back to without all that stands before it.
func (c *contents) direct(m member) bool {
	return !c.onePass && (c.kind == zipArchive || m.located)
}

// again is how the bytes of a member are compared with others.
func (c *contents) again(m member) opener {
	if c.direct(m) {
		return m.reopen
	}
	return func() (io.ReadCloser, error) { return c.sum(m.at) }
}

// fingerprints are the SHA-256 of the files of a container that can only be read from
// its beginning, or has to be inflated as a whole. One pass makes them all, when
// the first is asked for: coming back to each would take the square of the time.
type fingerprints struct {
	once sync.Once
	of   map[int]fingerprint
	err  error
}

// fingerprint stands for bytes that are known by their SHA-256 alone.
type fingerprint [sha256.Size]byte

func (fingerprint) Read([]byte) (int, error) { return 0, errors.New("only its fingerprint is known") }
func (fingerprint) Close() error             { return nil }

func (c *contents) sum(at int) (io.ReadCloser, error) {
	c.sums.once.Do(func() {
		c.sums.of = map[int]fingerprint{}
		c.sums.err = c.fingerprint()
	})
	d, ok := c.sums.of[at]
	if !ok {
		return nil, errors.Join(errors.New("the archive cannot be read again"), c.sums.err)
	}
	return d, nil
}

// fingerprint reads the whole container once more, and makes those of all its files.
func (c *contents) fingerprint() error {
	r, done, err := c.place()
	if err != nil {
		return err
	}
	defer done()
	if c.kind != zipArchive {
		return c.eachEntry(c.run, r, func(i int, h *tar.Header, body io.Reader, _ int64) error {
			switch {
			case isSparse(h):
				body = c.ration.of(body)
			case !c.onePass:
				return nil // it is come back to where it stands
			}
			d, err := fingerprintOf(body)
			c.sums.of[i] = d
			return err
		})
	}
	z, err := zip.NewReader(r, c.size)
	if err != nil {
		return err
	}
	for i, f := range regular(z.File) {
		body, err := f.Open()
		if err != nil {
			continue // it is refused for that
		}
		if d, err := fingerprintOf(c.ration.of(body)); err == nil {
			c.sums.of[i] = d
		}
		body.Close()
	}
	return nil
}

func fingerprintOf(r io.Reader) (d fingerprint, err error) {
	if known, ok := r.(fingerprint); ok {
		return known, nil
	}
	h := sha256.New()
	_, err = io.Copy(h, r)
	h.Sum(d[:0])
	return d, err
}
