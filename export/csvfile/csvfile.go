// Package csvfile writes tables as CSV by RFC 4180: UTF-8 without a byte order
// mark, lines ended by CR LF as section 2 (1) says, a header row, `.` as decimal
// sign, empty for absent.
//
// A file that a person opens in a spreadsheet must not run: text that begins like
// a formula gets an apostrophe before it (see guard). Numbers, dates and points
// are never changed.
package csvfile

import (
	"bufio"
	"context"
	"encoding/csv"
	"fmt"
	"io"
	"strings"

	"leadline/export"
	"leadline/export/atomicfile"
)

// extension ends the file name of a table.
const extension = ".csv"

// Names are the names of the files that WriteDir makes of the tables.
func Names(tables []export.Table) []string {
	names := make([]string, len(tables))
	for i, t := range tables {
		names[i] = t.Name + extension
	}
	return names
}

// WriteDir writes each table to a file of its own in the folder dir, which is
// made where it is not there. The files appear together at the end: after an error
// in writing, or where ctx ends, dir is as before. An existing file is refused with
// *atomicfile.ExistsError unless force is given.
func WriteDir(ctx context.Context, dir string, tables []export.Table, force bool) error {
	names := Names(tables)
	set, err := atomicfile.CreateSet(dir, names, force)
	if err != nil {
		return err
	}
	defer set.Abort()
	for i, t := range tables {
		f, err := set.Create(names[i])
		if err != nil {
			return err
		}
		if err := Write(ctx, f, t); err != nil {
			return fmt.Errorf("writing table %s: %w", t.Name, err)
		}
	}
	return set.Commit()
}

// rowsBetweenChecks is how many rows are written between looks at the context.
const rowsBetweenChecks = 1024

// Write writes one table. Columns without a name are for sheets, and left out.
func Write(ctx context.Context, w io.Writer, t export.Table) error {
	buffered := bufio.NewWriterSize(w, 64<<10)
	out := csv.NewWriter(buffered)
	out.UseCRLF = true
	var header []string
	var kept []int
	for i, c := range t.Columns {
		if c.Name != "" {
			header, kept = append(header, c.Name), append(kept, i)
		}
	}
	if err := out.Write(header); err != nil {
		return err
	}
	record := make([]string, len(kept))
	n := 0
	for cells := range t.Rows {
		if n++; n%rowsBetweenChecks == 0 && ctx.Err() != nil {
			break
		}
		for i, at := range kept {
			record[i] = field(cells[at])
		}
		if err := out.Write(record); err != nil {
			return err
		}
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	out.Flush()
	if err := out.Error(); err != nil {
		return err
	}
	return buffered.Flush()
}

func field(c export.Cell) string {
	if c.Kind == export.Text {
		return guard(c.Text)
	}
	return c.String()
}

// formulaStarts are the characters that make a spreadsheet run a field, in their
// narrow and wide forms, and the control characters that some skip before one
// (OWASP, "CSV Injection"; from memory).
const formulaStarts = "=+-@\t\r\n＝＋－＠"

// guard writes text that begins like a formula, blanks aside, as text: with an
// apostrophe before it. Text that begins with an apostrophe stays as it is, and so
// does a number kept as text, such as a study id of -1: it cannot run, and joins
// rely on it.
func guard(s string) string {
	body := strings.TrimLeft(s, " \u00a0\u3000")
	if body == "" || !strings.ContainsRune(formulaStarts, firstRune(body)) || signedDigits(body) {
		return s
	}
	return "'" + s
}

func signedDigits(s string) bool {
	return len(s) > 1 && (s[0] == '-' || s[0] == '+') && strings.Trim(s[1:], "0123456789") == ""
}

func firstRune(s string) rune {
	for _, c := range s {
		return c
	}
	return 0
}
