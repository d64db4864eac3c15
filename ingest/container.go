package ingest

import (
	"archive/tar"
	"archive/zip"
	"bytes"
	"compress/gzip"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
)

// inside joins the path of a container and of a member: export.zip!/a/b.dcm.
const inside = "!/"

// maxNested is how large a container within a container may be: it is held in
// memory, since nothing is unpacked to disk.
const maxNested = 64 << 20

// container is an archive of files that is read in place.
type container string

const (
	noContainer container = ""
	zipArchive  container = "a ZIP archive"
	tarArchive  container = "a tar archive"
	gzipTar     container = "a gzip-compressed tar archive"
)

// containerOf tells a container by its first bytes; a gzip file counts only where
// a tar header stands in it.
func containerOf(r io.ReaderAt, size int64) container {
	var head [512]byte
	n, _ := r.ReadAt(head[:], 0)
	switch {
	case n >= 4 && string(head[:4]) == "PK\x03\x04":
		return zipArchive
	case isTar(head[:n]):
		return tarArchive
	case n >= 2 && string(head[:2]) == "\x1F\x8B":
		z, err := gzip.NewReader(io.NewSectionReader(r, 0, size))
		if err != nil {
			return noContainer
		}
		n, _ := io.ReadFull(z, head[:])
		if isTar(head[:n]) {
			return gzipTar
		}
	}
	return noContainer
}

func isTar(head []byte) bool { return len(head) >= 262 && string(head[257:262]) == "ustar" }

// opener opens the bytes of a file again, for comparing copies.
type opener func() (io.ReadCloser, error)

// member reads what stands in a container: its path, size, how to read it now, and
// how to come back to it later.
type member struct {
	path  string
	size  int64
	r     io.Reader
	again opener
}

// members calls visit for every regular file in the container, in its order.
func members(kind container, r io.ReaderAt, size int64, path string, visit func(member) error) error {
	if kind == zipArchive {
		return zipMembers(r, size, path, visit)
	}
	return tarMembers(kind, r, size, path, visit)
}

func zipMembers(r io.ReaderAt, size int64, path string, visit func(member) error) error {
	z, err := zip.NewReader(r, size)
	if err != nil {
		return fmt.Errorf("reading the list of files: %w", err)
	}
	for i, f := range z.File {
		if f.FileInfo().IsDir() {
			continue
		}
		m := member{path: path + inside + cleanName(f.Name), size: int64(f.UncompressedSize64)}
		m.again = func() (io.ReadCloser, error) { return reopen(path, zipArchive, i) }
		body, err := f.Open()
		if err != nil {
			m.r = failing{err}
			err = visit(m)
		} else {
			m.r = body
			err = visit(m)
			body.Close()
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// failing is a member that cannot be opened; reading it says why.
type failing struct{ err error }

func (f failing) Read([]byte) (int, error) { return 0, f.err }

func tarMembers(kind container, r io.ReaderAt, size int64, path string, visit func(member) error) error {
	t, err := tarReader(kind, io.NewSectionReader(r, 0, size))
	if err != nil {
		return err
	}
	for i := 0; ; i++ {
		h, err := t.Next()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return fmt.Errorf("reading entry %d: %w", i+1, err)
		}
		if h.Typeflag != tar.TypeReg {
			continue
		}
		m := member{path: path + inside + cleanName(h.Name), size: h.Size, r: t}
		m.again = func() (io.ReadCloser, error) { return reopen(path, kind, i) }
		if err := visit(m); err != nil {
			return err
		}
	}
}

func tarReader(kind container, r io.Reader) (*tar.Reader, error) {
	if kind == gzipTar {
		z, err := gzip.NewReader(r)
		if err != nil {
			return nil, fmt.Errorf("reading the compressed data: %w", err)
		}
		r = z
	}
	return tar.NewReader(r), nil
}

// cleanName keeps a member's path readable and on one line.
func cleanName(name string) string {
	return strings.Map(func(r rune) rune {
		if r < ' ' {
			return '?'
		}
		return r
	}, strings.ToValidUTF8(strings.TrimPrefix(name, "./"), "?"))
}

// reopen comes back to entry number at of the container at path. Containers in
// containers are not come back to.
func reopen(path string, kind container, at int) (io.ReadCloser, error) {
	if strings.Contains(path, inside) {
		return nil, errors.New("it lies in an archive within an archive")
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	body, err := entry(f, kind, at)
	if err != nil {
		f.Close()
		return nil, err
	}
	return &closing{Reader: body, file: f}, nil
}

type closing struct {
	io.Reader
	file *os.File
}

func (c *closing) Close() error { return c.file.Close() }

func entry(f *os.File, kind container, at int) (io.Reader, error) {
	if kind == zipArchive {
		info, err := f.Stat()
		if err != nil {
			return nil, err
		}
		z, err := zip.NewReader(f, info.Size())
		if err != nil || at >= len(z.File) {
			return nil, errors.Join(errors.New("the archive has changed"), err)
		}
		return z.File[at].Open()
	}
	t, err := tarReader(kind, f)
	if err != nil {
		return nil, err
	}
	for range at + 1 {
		if _, err := t.Next(); err != nil {
			return nil, err
		}
	}
	return t, nil
}

// expand reads a container in place: one row for the container itself and one for
// each file in it, whatever it is. Containers within it are opened once more.
func (w *worker) expand(own Entry, kind container, r io.ReaderAt, size int64, depth int) {
	before := w.made
	err := members(kind, r, size, own.Path, func(m member) error {
		w.readMember(m, depth)
		return nil
	})
	files := w.made - before
	own.Outcome, own.Reason = OutcomeNotDICOM, fmt.Sprintf("%s, read in place: %d files", kind, files)
	if err != nil {
		own.Outcome = OutcomeUnreadable
		own.Reason = fmt.Sprintf("%s that cannot be read on after %d files: %s", kind, files, reasonOf(err))
	}
	w.add(row{entry: own})
}

func (w *worker) readMember(m member, depth int) {
	own := Entry{Path: m.path, Bytes: m.size}
	var head [512]byte
	n, err := io.ReadFull(m.r, head[:])
	if err != nil && !errors.Is(err, io.EOF) && !errors.Is(err, io.ErrUnexpectedEOF) {
		own.Outcome, own.Reason = OutcomeUnreadable, "cannot be opened: "+reasonOf(err)
		w.add(row{entry: own})
		return
	}
	body := io.MultiReader(bytes.NewReader(head[:n]), m.r)
	if kind := containerOf(bytes.NewReader(head[:n]), int64(n)); kind != noContainer && depth == 0 {
		w.nested(own, kind, body)
		return
	}
	header, err := w.scanner.ScanStream(body, m.size)
	own, inst := w.judge(own, header, err)
	w.add(row{entry: own, inst: inst, again: m.again})
}

// nested reads a container within a container from memory, up to a limit.
func (w *worker) nested(own Entry, kind container, body io.Reader) {
	if own.Bytes > maxNested {
		own.Outcome, own.Reason = OutcomeUnreadable, fmt.Sprintf("%s within an archive, larger than the %d bytes that are read so; unpack it", kind, maxNested)
		w.add(row{entry: own})
		return
	}
	data, err := io.ReadAll(io.LimitReader(body, maxNested+1))
	if err != nil || len(data) > maxNested {
		own.Outcome, own.Reason = OutcomeUnreadable, fmt.Sprintf("%s within an archive that is damaged or larger than it says", kind)
		w.add(row{entry: own})
		return
	}
	w.expand(own, kind, bytes.NewReader(data), int64(len(data)), 1)
}
