package workbook

import (
	"context"
	"fmt"
	"io"
	"path/filepath"
	"slices"

	"github.com/xuri/excelize/v2"

	"leadline/export"
	"leadline/export/atomicfile"
	"leadline/export/deid"
)

// order is the order of the sheets after the overview: what a person reads first.
// Tables that it does not name follow.
var order = []string{"actions", "devices", "look-at", "targets", "scales", "settings", "routes", "acoustic", "studies", "completeness", "measurements", "findings", "indices", "timing", "images", "regions", "rulers", "clocks", "agreement", "rates", "differences", "charts", "files", "codebook"}

// Names of the sheets that are no tables.
const (
	overviewSheet = "Overview"
	methodSheet   = "How it was computed"
)

// Write writes the book to path, which appears when it is whole, with mode 0600.
// An existing file is refused with *atomicfile.ExistsError unless force is given.
func Write(ctx context.Context, path string, book *export.Book, force bool) error {
	f, err := atomicfile.Create(path, force)
	if err != nil {
		return err
	}
	defer f.Abort()
	if err := write(ctx, f, filepath.Dir(path), book, sheetRows); err != nil {
		return fmt.Errorf("writing the workbook: %w", err)
	}
	return f.Commit()
}

// writer is the state of one workbook.
type writer struct {
	ctx context.Context
	// file is the workbook with its pages; archive takes its parts, and before
	// them the sheets of the tables. Temporary files lie in dir.
	file    *excelize.File
	archive *sortedZip
	dir     string
	// alone is a file that holds the sheet at hand only: excelize keeps what it
	// streams, up to 16 MiB of each sheet, until the file is written. The numbers of
	// styles are those of the workbook.
	alone *excelize.File
	// feed takes the rows of the sheet at hand.
	feed *feed
	// packing tells the outcome of the sheet that is being put into the archive.
	packing chan error
	book    *export.Book
	styles  *styles
	// rows is the most rows of a sheet.
	rows int
}

// write writes the book to out; temporary files lie in dir.
func write(ctx context.Context, out io.Writer, dir string, book *export.Book, rows int) error {
	archive, err := newSortedZip(ctx, out, dir)
	if err != nil {
		return err
	}
	defer archive.remove()
	file := excelize.NewFile(excelize.Options{TmpDir: dir})
	defer file.Close()
	w := &writer{ctx: ctx, file: file, archive: archive, dir: dir, book: book, styles: newStyles(file), rows: rows}
	defer w.abandon()
	if err := w.sheets(); err != nil {
		return err
	}
	if err := w.packed(); err != nil {
		return err
	}
	if err := file.SetDocProps(properties(book.Title)); err != nil {
		return err
	}
	file.SetZipWriter(func(io.Writer) excelize.ZipWriter { return remaining{archive} })
	return file.Write(io.Discard)
}

// properties are the same in every workbook: the same input gives the same bytes.
func properties(title string) *excelize.DocProperties {
	const fixed = "2000-01-01T00:00:00Z"
	return &excelize.DocProperties{Title: title, Creator: "Leadline", LastModifiedBy: "Leadline", Created: fixed, Modified: fixed}
}

// sheets writes all sheets in the order of reading. The first is the active one
// of a new file; to say so again would make excelize parse every sheet it wrote.
func (w *writer) sheets() error {
	if err := w.file.SetSheetName("Sheet1", overviewSheet); err != nil {
		return err
	}
	if err := w.page(overviewSheet, w.book.Overview); err != nil {
		return err
	}
	if err := w.meeting(); err != nil {
		return fmt.Errorf("the sheet for a meeting: %w", err)
	}
	for _, t := range w.tables() {
		if err := w.table(t); err != nil {
			return fmt.Errorf("sheet %s: %w", t.Title, err)
		}
	}
	if _, err := w.file.NewSheet(methodSheet); err != nil {
		return err
	}
	return w.page(methodSheet, w.book.Method)
}

// tables are the tables of the book that have rows, in the order of reading. An
// empty one has no sheet; the list of sheets names it.
func (w *writer) tables() []export.Table {
	return slices.DeleteFunc(w.ordered(), func(t export.Table) bool { return t.Len == 0 })
}

// ordered are all tables of the book in the order of reading.
func (w *writer) ordered() []export.Table {
	var out []export.Table
	taken := map[string]bool{}
	for _, name := range order {
		for _, t := range w.book.Tables {
			if t.Name == name {
				out, taken[name] = append(out, t), true
			}
		}
	}
	for _, t := range w.book.Tables {
		if !taken[t.Name] {
			out = append(out, t)
		}
	}
	return out
}

// full tells that the workbook holds patient data, which every sheet says.
func (w *writer) full() bool { return w.book.Identity == deid.Full }
