package workbook

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"slices"

	"github.com/xuri/excelize/v2"
)

// partOfSheet is the place in a workbook's archive of the sheet at index, from 0,
// as excelize names them.
func partOfSheet(index int) string { return fmt.Sprintf("xl/worksheets/sheet%d.xml", index+1) }

// single takes one part from a file that holds one sheet behind excelize's own
// first: the sheet.
type single struct{ *bytes.Buffer }

// Create opens the part where it is the sheet, and drops what else the file has.
func (s single) Create(name string) (io.Writer, error) {
	if name != partOfSheet(1) {
		return io.Discard, nil
	}
	return s.Buffer, nil
}

// Close has nothing to end.
func (single) Close() error { return nil }

// AddFS is part of what excelize asks for; it never calls it when writing.
func (single) AddFS(fs.FS) error { return errors.ErrUnsupported }

// endOfRows is where the data rows of a sheet end.
const endOfRows = "</sheetData>"

// framed takes the sheet of a file apart where its rows end.
func framed(file *excelize.File) (head, tail []byte, err error) {
	var sheet bytes.Buffer
	file.SetZipWriter(func(io.Writer) excelize.ZipWriter { return single{&sheet} })
	if err := file.Write(io.Discard); err != nil {
		return nil, nil, err
	}
	at := bytes.LastIndex(sheet.Bytes(), []byte(endOfRows))
	if at < 0 {
		return nil, nil, errors.New("excelize made a sheet without rows")
	}
	return sheet.Bytes()[:at], sheet.Bytes()[at:], nil
}

// remaining takes the parts that are not in the archive yet.
type remaining struct{ *sortedZip }

// Create opens the part, or drops it where the archive has it.
func (r remaining) Create(name string) (io.Writer, error) {
	if slices.ContainsFunc(r.entries, func(e *entry) bool { return e.name == name }) {
		return io.Discard, nil
	}
	return r.sortedZip.Create(name)
}
