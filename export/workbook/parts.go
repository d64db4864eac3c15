package workbook

import (
	"errors"
	"fmt"
	"io"
	"slices"

	"github.com/xuri/excelize/v2"
)

// partOfSheet is the place in a workbook's archive of the sheet at index, from 0,
// as excelize names them.
func partOfSheet(index int) string { return fmt.Sprintf("xl/worksheets/sheet%d.xml", index+1) }

// single takes one part from a file that holds one sheet behind excelize's own
// first: the sheet, which becomes the part named to of the archive.
type single struct {
	*sortedZip
	to string
}

// Create opens the part where it is the sheet, and drops what else the file has.
func (s single) Create(name string) (io.Writer, error) {
	if name != partOfSheet(1) {
		return io.Discard, nil
	}
	return s.sortedZip.Create(s.to)
}

// Close leaves the archive open for the next.
func (s single) Close() error { return nil }

// remaining takes the parts that are not in the archive yet.
type remaining struct{ *sortedZip }

// Create opens the part, or drops it where the archive has it.
func (r remaining) Create(name string) (io.Writer, error) {
	if slices.ContainsFunc(r.entries, func(e *entry) bool { return e.name == name }) {
		return io.Discard, nil
	}
	return r.sortedZip.Create(name)
}

// pack puts the sheet at hand into the archive as the part named, while the next
// one is made.
func (w *writer) pack(part string) error {
	if err := w.packed(); err != nil {
		return err
	}
	file, done := w.alone, make(chan error, 1)
	w.alone, w.packing = nil, done
	file.SetZipWriter(func(io.Writer) excelize.ZipWriter { return single{w.archive, part} })
	go func() { done <- errors.Join(file.Write(io.Discard), file.Close()) }()
	return nil
}

// packed waits until the archive is free.
func (w *writer) packed() error {
	if w.packing == nil {
		return nil
	}
	err := <-w.packing
	w.packing = nil
	return err
}

// abandon removes what is left where the workbook was not finished.
func (w *writer) abandon() {
	if w.feed != nil {
		_ = w.feed.end()
	}
	_ = w.packed() // the first error is told already
	if w.alone != nil {
		w.alone.Close()
	}
}
