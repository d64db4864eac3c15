package ingest

import (
	"archive/zip"
	"compress/flate"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"strings"
)

// maxDirectory bounds the list of files of a ZIP archive, in bytes as it stands in
// the file: the list is held in memory, where an entry takes up to five times that.
// 100,000 files with names of 40 letters take 9 to 12 MB. An archive that is in
// memory itself, being within another, may have maxInnerDirectory.
const (
	maxDirectory      = 16 << 20
	maxInnerDirectory = 4 << 20
)

// expandZip reads the files of a ZIP archive and counts them. They can be read in
// any order, so that workers without a file of their own take part.
//
// A member is read in place, and only as far as its header reaches; so its checksum
// is compared only where it is read to its end.
func (w *worker) expandZip(c *contents) (int, error) {
	guard := &listing{r: c.r, left: maxDirectory}
	if c.depth > 0 {
		guard.left = maxInnerDirectory
	}
	z, err := zip.NewReader(guard, c.size)
	if err != nil {
		return 0, fmt.Errorf("reading the list of files: %w", err)
	}
	guard.listed = true
	files := regular(z.File)
	overlap := overlaps(files, c.size)
	paths := make([]string, 0, len(files))
	for _, f := range files {
		var shown string
		// Some writers put backslashes between folders (against APPNOTE 4.4.17.1).
		if shown, err = c.list(strings.ReplaceAll(f.Name, `\`, "/")); err != nil {
			break
		}
		paths = append(paths, shown)
	}
	c.seen = nil
	share := w.share
	if c.ration.mayEnd(files) {
		share = w.alone // what is refused shall not depend on who comes first
	}
	if c.depth == 0 { // below that none is opened
		c.within = &putOff{}
	}
	read := func(w *worker, i int) {
		m := zipMember(c, paths[i], files[i])
		m.at = i
		if overlap {
			m.refuse(OutcomeUnreadable, "the files of the archive claim more bytes than it has: they overlap, and are not read")
		}
		w.readMember(c, m)
	}
	share(c.ctx, len(paths), read)
	containers := c.within.inOrder()
	c.within = nil
	w.alone(c.ctx, len(containers), func(w *worker, i int) { read(w, containers[i]) })
	return len(paths), err
}

// regular leaves out the entries for folders; some writers end them in a backslash.
func regular(all []*zip.File) []*zip.File {
	files := make([]*zip.File, 0, len(all))
	for _, f := range all {
		folder := strings.HasSuffix(f.Name, "/") || strings.HasSuffix(f.Name, `\`) || f.Mode().IsDir()
		if !folder || f.UncompressedSize64 > 0 {
			files = append(files, f)
		}
	}
	return files
}

// overlaps tells that the files are together larger than the archive: the same
// bytes are then inflated again and again.
func overlaps(files []*zip.File, size int64) bool {
	sum := uint64(0)
	for _, f := range files {
		if sum += min(f.CompressedSize64, math.MaxInt64); sum > uint64(size) {
			return true
		}
	}
	return false
}

// zipMember settles how a file of the archive is read, or why it is not.
func zipMember(c *contents, path string, f *zip.File) member {
	const encrypted = 0x1 // general purpose bit 0 (APPNOTE 4.4.4)
	m := member{path: path, size: int64(min(f.UncompressedSize64, math.MaxInt64)), open: f.Open}
	switch {
	case f.UncompressedSize64 > math.MaxInt64 || f.CompressedSize64 > math.MaxInt64:
		m.refuse(OutcomeUnreadable, "it claims a size that no file has")
	case f.Mode()&fs.ModeSymlink != 0:
		m.refuse(OutcomeNotDICOM, "not a regular file: a link within an archive; not followed")
	case f.Flags&encrypted != 0:
		m.refuse(OutcomeUnreadable, "it is encrypted; unpack the archive with its password")
	case f.Method != zip.Store && f.Method != zip.Deflate:
		m.refuse(OutcomeUnreadable, fmt.Sprintf("it is compressed by method %d of ZIP, which is not read; unpack the archive", f.Method))
	}
	offset, err := f.DataOffset()
	if err != nil {
		return m // open says why
	}
	packed, deflated := int64(f.CompressedSize64), f.Method == zip.Deflate
	m.offset, m.located = offset, !deflated && packed == m.size && offset <= c.size-packed
	m.reopen = func() (io.ReadCloser, error) { return c.place.open(offset, packed, c.inflating(deflated)) }
	return m
}

// inflating is the ration of what is deflated, nil of what is not.
func (c *contents) inflating(deflated bool) *ration {
	if !deflated {
		return nil
	}
	return c.ration
}

// open reads a stretch of a container again, inflating it where it is deflated and
// has a ration.
func (p place) open(offset, size int64, deflated *ration) (io.ReadCloser, error) {
	r, done, err := p()
	if err != nil {
		return nil, err
	}
	body := io.Reader(io.NewSectionReader(r, offset, size))
	if deflated != nil {
		body = deflated.of(flate.NewReader(body))
	}
	return &closing{Reader: body, done: done}, nil
}

// listing is a ZIP archive while its list of files is read: so many bytes and no
// more, since each entry of the list becomes some hundred bytes in memory.
type listing struct {
	r      io.ReaderAt
	left   int64
	listed bool
}

func (l *listing) ReadAt(b []byte, off int64) (int, error) {
	if !l.listed {
		if l.left -= int64(len(b)); l.left < 0 {
			return 0, errors.New("the list is longer than is read; unpack the archive")
		}
	}
	return l.r.ReadAt(b, off)
}
