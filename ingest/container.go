package ingest

import (
	"bytes"
	"compress/gzip"
	"context"
	"errors"
	"fmt"
	"io"
	"sync/atomic"

	"leadline/ingest/dcm"
)

// Limits of one container.
const (
	// maxNested is how large a compressed container within a container may be: it
	// is held in memory, since nothing is unpacked to disk.
	maxNested = 64 << 20
	// maxListed bounds what the ledger keeps of the files of one container and of
	// those within it, in bytes of their names and ofRow for each: a compressed list
	// of files can be a thousandth of that. It is enough for 200,000 files with paths
	// of 80 letters.
	maxListed = 40 << 20
	ofRow     = 128
)

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
	case n >= 4 && (string(head[:4]) == "PK\x03\x04" || string(head[:4]) == "PK\x05\x06"): // the latter is an empty one
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

// contents is a container that is being read.
type contents struct {
	kind container
	path string
	r    io.ReaderAt
	size int64
	// place opens the bytes of r again, once the file is closed.
	place place
	// depth is 0 for a file, 1 for a container within one.
	depth int
	// sums compares members by their digests: all of them in a container of one pass,
	// which can be come back to only through all that stands before them, or has to be
	// inflated as a whole; in other tar archives those with holes.
	sums    *fingerprints
	onePass bool
	// ration is what may still be inflated of the whole file.
	ration *ration
	// seen counts how often a path was given to a member.
	seen map[string]int
	// left is what the ledger may still keep of the whole file.
	left *atomic.Int64
	// within takes the containers among its members while several workers read them,
	// nil where they are opened as they are met.
	within *putOff
	// ctx ends the reading, run the whole of Load, to which comparing belongs.
	ctx, run context.Context
}

// contentsOf is a container that is a file of its own.
func (w *worker) contentsOf(kind container, path string, r io.ReaderAt, size int64) *contents {
	c := &contents{kind: kind, path: path, r: r, size: size, place: placeOf(path), seen: map[string]int{}, left: new(atomic.Int64), ctx: w.ctx, run: w.run}
	c.left.Store(maxListed)
	c.sums, c.onePass, c.ration = &fingerprints{}, kind == gzipTar, newRation(size)
	return c
}

// list takes room for a member's row, and gives it the path that it is shown under.
// Members of one name are told apart by a number.
func (c *contents) list(name string) (string, error) {
	shown := memberPath(c.path, name)
	if c.left.Add(-int64(len(shown)+ofRow)) < 0 {
		return "", errors.New("it holds more files than are listed of one archive; unpack it")
	}
	first := shown
	for c.seen[shown] > 0 {
		c.seen[first]++
		shown = fmt.Sprintf("%s (%d)", first, c.seen[first])
	}
	c.seen[shown] = 1
	return shown, nil
}

// member is a file in a container.
type member struct {
	path string
	size int64
	// at is its place in the order of the container.
	at int
	// refused says why it is not read, with the outcome it has then.
	refused string
	outcome Outcome
	// located tells that it stands uncompressed in the container, from offset on.
	located bool
	offset  int64
	// open reads it now; reopen comes back to it when the container is closed.
	open, reopen opener
}

func (m *member) refuse(outcome Outcome, reason string) { m.outcome, m.refused = outcome, reason }

// expand reads a container in place: one row for the container itself and one for
// each file in it, whatever it is. Containers within it are opened once more.
func (w *worker) expand(own Entry, c *contents) {
	read := w.expandTar
	if c.kind == zipArchive {
		read = w.expandZip
	}
	files, err := read(c)
	own.Outcome, own.Reason = OutcomeNotDICOM, fmt.Sprintf("%s, read in place; files in it: %d", c.kind, files)
	if err != nil {
		own.Outcome = OutcomeUnreadable
		own.Reason = fmt.Sprintf("%s that cannot be read to its end (files before: %d): %s", c.kind, files, reasonOf(err))
	}
	w.add(row{entry: own})
}

// readMember makes the row of a member, and of what it holds where it is a
// container. A fault in reading is that member's row.
func (w *worker) readMember(c *contents, m member) {
	own := Entry{Path: m.path, Bytes: m.size, Outcome: m.outcome, Reason: m.refused}
	if m.refused != "" {
		w.add(row{entry: own})
		return
	}
	defer func() {
		if recover() != nil {
			w.scanner = dcm.Scanner{}
			w.add(row{entry: faulty(own)})
		}
	}()
	if m.located {
		w.readLocated(c, m, own)
		return
	}
	body, err := m.open()
	if err != nil {
		own.Outcome, own.Reason = OutcomeUnreadable, "cannot be opened: "+reasonOf(err)
		w.add(row{entry: own})
		return
	}
	defer body.Close()
	w.readStream(c, m, own, body)
}

// readLocated reads a member as a stretch of the container's own file.
func (w *worker) readLocated(c *contents, m member, own Entry) {
	r := io.NewSectionReader(c.r, m.offset, m.size)
	header, err := w.scanner.Scan(r, m.size)
	if errors.Is(err, dcm.ErrNotDICOM) {
		if kind := containerOf(r, m.size); kind != noContainer {
			if c.within.take(m.at) {
				return
			}
			w.within(c, own, contents{kind: kind, r: r, size: m.size, place: c.place.stretch(m.offset, m.size)})
			return
		}
	}
	w.keep(c, m, own, header, err)
}

// readStream reads a member that is inflated on the way. Only its header is.
func (w *worker) readStream(c *contents, m member, own Entry, body io.Reader) {
	if c.kind != gzipTar { // that is rationed as a whole
		body = c.ration.of(body)
	}
	var head [512]byte
	n, err := io.ReadFull(body, head[:])
	if err != nil && !errors.Is(err, io.EOF) && !errors.Is(err, io.ErrUnexpectedEOF) {
		own.Outcome, own.Reason = OutcomeUnreadable, "cannot be read: "+reasonOf(err)
		w.add(row{entry: own})
		return
	}
	body = io.MultiReader(bytes.NewReader(head[:n]), body)
	if kind := containerOf(bytes.NewReader(head[:n]), int64(n)); kind != noContainer {
		if c.within.take(m.at) {
			return
		}
		w.inMemory(c, m, own, kind, body)
		return
	}
	header, err := w.scanner.ScanStream(body, m.size)
	w.keep(c, m, own, header, err)
}

// keep makes the row of a member that was scanned.
func (w *worker) keep(c *contents, m member, own Entry, header *dcm.File, err error) {
	own, inst := w.judge(own, header, err)
	r := row{entry: own, inst: inst}
	if inst != nil {
		r.again, r.direct = c.again(m), c.direct(m)
	}
	w.add(r)
}

// inMemory reads a compressed container within a container, up to a limit.
func (w *worker) inMemory(c *contents, m member, own Entry, kind container, body io.Reader) {
	if c.depth > 0 {
		w.within(c, own, contents{kind: kind})
		return
	}
	w.nesting.Lock() // one at a time, for they are large
	defer w.nesting.Unlock()
	data, err := readNested(body, m.size, w.nested)
	w.nested = data
	if err != nil {
		own.Outcome, own.Reason = OutcomeUnreadable, fmt.Sprintf("%s within an archive, %s", kind, reasonOf(err))
		w.add(row{entry: own})
		return
	}
	w.within(c, own, contents{kind: kind, r: bytes.NewReader(data), size: int64(len(data)), place: m.nested, onePass: true})
}

// readNested reads a compressed container within a container into memory, into
// that of one before where it is large enough. The memory is returned in any case.
func readNested(body io.Reader, size int64, memory []byte) ([]byte, error) {
	if size > maxNested {
		return memory, fmt.Errorf("larger than the %d bytes that are read so; unpack it", maxNested)
	}
	if int64(cap(memory)) < size {
		memory = make([]byte, size)
	}
	memory = memory[:size]
	switch _, err := io.ReadFull(body, memory); {
	case errors.As(err, new(*dcm.LimitError)):
		return memory, err
	case err != nil:
		return memory, errors.New("that is damaged or shorter than it says")
	}
	return memory, nil
}

// nested reads the member into memory again.
func (m member) nested() (io.ReaderAt, func(), error) {
	body, err := m.reopen()
	if err != nil {
		return nil, nil, err
	}
	defer body.Close()
	data, err := readNested(body, m.size, nil)
	return bytes.NewReader(data), func() {}, err
}

// within expands a container that lies in another, unless that lies in one too.
func (w *worker) within(outer *contents, own Entry, c contents) {
	if outer.depth > 0 {
		own.Outcome, own.Reason = OutcomeUnreadable, fmt.Sprintf("%s within an archive within an archive, which is not opened; unpack it", c.kind)
		w.add(row{entry: own})
		return
	}
	c.path, c.depth, c.seen = own.Path, outer.depth+1, map[string]int{}
	c.left, c.ration, c.ctx, c.run = outer.left, outer.ration, outer.ctx, outer.run
	c.sums, c.onePass = &fingerprints{}, c.onePass || c.kind == gzipTar
	w.expand(own, &c)
}
