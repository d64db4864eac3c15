package ingest

import (
	"archive/tar"
	"compress/gzip"
	"context"
	"errors"
	"fmt"
	"io"
	"strings"
)

// expandTar reads the files of a tar archive in their order and counts them. In a
// compressed one everything before a file must be inflated to reach it.
func (w *worker) expandTar(c *contents) (int, error) {
	n := 0
	err := c.eachEntry(c.ctx, c.r, func(i int, h *tar.Header, body io.Reader, offset int64) error {
		path, err := c.list(h.Name)
		if err != nil {
			return err
		}
		m := tarMember(c, path, h, body, offset)
		m.at = i
		m.reopen = func() (io.ReadCloser, error) { return c.entry(i) }
		if m.located {
			m.reopen = func() (io.ReadCloser, error) { return c.place.open(offset, m.size, nil) }
		}
		n++
		w.readMember(c, m)
		return nil
	})
	return n, err
}

// eachEntry calls visit for every entry that is a file or stands for one, with its
// number among all entries and, in an archive that is not compressed, the offset of
// its data, else -1.
func (c *contents) eachEntry(ctx context.Context, r io.ReaderAt, visit func(i int, h *tar.Header, body io.Reader, offset int64) error) error {
	raw := io.NewSectionReader(r, 0, c.size)
	t, err := c.tarReader(ctx, raw)
	if err != nil {
		return err
	}
	for i := 0; ; i++ {
		h, err := t.Next()
		if errors.Is(err, io.EOF) {
			return c.endMark(raw)
		}
		if err == nil {
			err = ctx.Err()
		}
		if err != nil {
			return fmt.Errorf("reading entry %d: %w", i+1, err)
		}
		if h.Typeflag == tar.TypeDir || h.Typeflag == tar.TypeXGlobalHeader {
			continue
		}
		offset := int64(-1)
		if c.kind == tarArchive {
			// The reader reads blocks of its own size: what follows is the data.
			offset, _ = raw.Seek(0, io.SeekCurrent)
		}
		if err := visit(i, h, t, offset); err != nil {
			return err
		}
	}
}

// endMark wants the zero blocks that end an archive (POSIX pax, ustar interchange
// format): one that is cut between two files would else look whole. Of a compressed
// archive the compression tells.
func (c *contents) endMark(raw *io.SectionReader) error {
	if c.kind != tarArchive {
		return nil
	}
	const block = 512
	var last [block]byte
	if at, _ := raw.Seek(0, io.SeekCurrent); at >= block {
		if _, err := raw.ReadAt(last[:], at-block); err != nil {
			return fmt.Errorf("reading its end: %w", err)
		}
	}
	if last != [block]byte{} {
		return errors.New("it has no end mark: files may have been cut off")
	}
	return nil
}

func (c *contents) tarReader(ctx context.Context, raw *io.SectionReader) (*tar.Reader, error) {
	if c.kind != gzipTar {
		return tar.NewReader(raw), nil
	}
	z, err := gzip.NewReader(stopping{raw, ctx})
	if err != nil {
		return nil, fmt.Errorf("reading the compressed data: %w", err)
	}
	return tar.NewReader(c.ration.of(z)), nil
}

// tarMember settles how a file of the archive is read, or why it is not.
func tarMember(c *contents, path string, h *tar.Header, body io.Reader, offset int64) member {
	m := member{path: path, size: h.Size, offset: offset}
	m.open = func() (io.ReadCloser, error) { return io.NopCloser(body), nil }
	switch h.Typeflag {
	case tar.TypeReg, tar.TypeCont, tar.TypeGNUSparse:
		m.located = offset >= 0 && !isSparse(h) && offset <= c.size-h.Size
	case tar.TypeLink, tar.TypeSymlink:
		m.refuse(OutcomeNotDICOM, "not a regular file: a link within an archive; not followed")
	case tar.TypeFifo:
		m.refuse(OutcomeNotDICOM, "not a regular file: a named pipe")
	case tar.TypeChar, tar.TypeBlock:
		m.refuse(OutcomeNotDICOM, "not a regular file: a device")
	default:
		m.refuse(OutcomeNotDICOM, "not a regular file: of an unknown kind")
	}
	return m
}

// isSparse tells files whose holes are left out of the archive, in the forms of GNU
// tar: an own type, or extended headers.
func isSparse(h *tar.Header) bool {
	if h.Typeflag == tar.TypeGNUSparse {
		return true
	}
	for key := range h.PAXRecords {
		if strings.HasPrefix(key, "GNU.sparse.") {
			return true
		}
	}
	return false
}

// entry comes back to entry number at, through all before it.
func (c *contents) entry(at int) (io.ReadCloser, error) {
	r, done, err := c.place()
	if err != nil {
		return nil, err
	}
	var found io.Reader
	err = c.eachEntry(c.run, r, func(i int, _ *tar.Header, body io.Reader, _ int64) error {
		if i < at {
			return nil
		}
		found = body
		return errFound
	})
	if found == nil {
		done()
		return nil, errors.Join(errors.New("the archive has changed"), err)
	}
	return &closing{Reader: found, done: done}, nil
}

// errFound ends a search.
var errFound = errors.New("found")

// stopping is a reader that ends with its context: a large archive is one file.
type stopping struct {
	io.Reader
	ctx context.Context
}

func (s stopping) Read(b []byte) (int, error) {
	if err := s.ctx.Err(); err != nil {
		return 0, err
	}
	return s.Reader.Read(b)
}
