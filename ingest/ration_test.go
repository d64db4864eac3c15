package ingest

import (
	"archive/zip"
	"bytes"
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"
)

// oneWorker reads alone, as one of Load does.
func oneWorker() *worker {
	l := &loader{run: context.Background(), opts: Options{Workers: 1}, pool: newPool()}
	return &worker{loader: l, ctx: l.run, builder: builder{pool: l.pool}}
}

func madeBy(w *worker) (rows []row) {
	for _, some := range w.rows {
		rows = append(rows, some...)
	}
	return rows
}

// TestRation: files of an archive that inflate far are read as far as the ration
// reaches, those within a container within it too; then each is refused, and has its
// row.
func TestRation(t *testing.T) {
	const each = 1 << 20
	far := "\x09\x00\x01\x10OB\x00\x00\x00\x00\x10\x00" + strings.Repeat("\x00", each)
	var files []packed
	for i := range 8 {
		files = append(files, packed{fmt.Sprint(i), object(usImage, fmt.Sprintf("2.25.%d", i+1), "2.25.9", far+usRows)})
	}
	inner := zipped(t, zip.Deflate, files...)
	for name, c := range map[string]struct {
		archive []byte
		kind    container
		own     int // rows of containers
	}{
		"zip":     {inner, zipArchive, 1},
		"in zip":  {zipped(t, zip.Deflate, packed{"in.zip", inner}), zipArchive, 2},
		"tar.gz":  {gzipped(t, tarred(t, packed{"in.zip", inner})), gzipTar, 2},
		"in tars": {tarred(t, packed{"in.zip", inner}), tarArchive, 2},
	} {
		w := oneWorker()
		of := w.contentsOf(c.kind, "x", bytes.NewReader(c.archive), int64(len(c.archive)))
		of.ration.left.Store(3*each + each/2)
		w.expand(Entry{Path: "x"}, of)
		images, refused := 0, 0
		for _, r := range madeBy(w) {
			switch {
			case r.entry.Outcome == OutcomeImage:
				images++
			case r.entry.Path != "x" && strings.Contains(r.entry.Reason, "bytes inflated of one archive"):
				refused++
			}
		}
		if rows := len(madeBy(w)); rows != 8+c.own || images != 3 || refused != 5 {
			t.Errorf("%s: %d rows, %d images, %d refused; want %d, 3 and 5", name, rows, images, refused, 8+c.own)
		}
	}
}

// sparseEntry is an entry of the old GNU sparse form, whose one stretch of data is
// all of it (GNU tar manual, "Old GNU Format").
func sparseEntry(name string, content []byte) []byte {
	h := make([]byte, 512)
	octal := func(at int, v int) { copy(h[at:], fmt.Sprintf("%011o\x00", v)) }
	copy(h, name)
	copy(h[100:], "0000600\x000000000\x000000000\x00")
	octal(124, len(content)) // size in the archive
	octal(136, 0)
	h[156] = 'S'
	copy(h[257:], "ustar  \x00")
	octal(386, 0) // the stretch: offset, length
	octal(398, len(content))
	octal(483, len(content)) // size of the file
	copy(h[148:], "        ")
	sum := 0
	for _, b := range h {
		sum += int(b)
	}
	copy(h[148:], fmt.Sprintf("%06o\x00 ", sum))
	return append(append(h, content...), make([]byte, 511-(len(content)+511)%512)...)
}

// TestSparseCopies: files with holes in a tar archive are compared by digests made in
// one pass, and those without by their bytes. Coming back to each through all before
// it took minutes for 8,000.
func TestSparseCopies(t *testing.T) {
	content := object(usImage, "2.25.1", "2.25.9", usRows)
	other := bytes.Replace(content, []byte("2.25.9"), []byte("2.25.8"), 1)
	archive := slices.Concat(sparseEntry("a", content), sparseEntry("b", content), sparseEntry("c", other), tarred(t, packed{"d", content}))
	dir := t.TempDir()
	write(t, dir+"/x", archive)
	a, err := Load(context.Background(), []string{dir}, Options{})
	if err != nil || len(a.Ledger) != 5 {
		t.Fatalf("%v, ledger %+v", err, a.Ledger)
	}
	for i, want := range []Outcome{OutcomeNotDICOM, OutcomeImage, OutcomeDuplicate, OutcomeConflict, OutcomeDuplicate} {
		if a.Ledger[i].Outcome != want {
			t.Errorf("%s: %s, %s; want %s", a.Ledger[i].Path, a.Ledger[i].Outcome, a.Ledger[i].Reason, want)
		}
	}

	w := oneWorker()
	w.read(met{path: dir + "/x"})
	for i, r := range madeBy(w)[:4] {
		body, err := r.again()
		if err != nil {
			t.Fatal(err)
		}
		if _, byDigest := body.(fingerprint); byDigest != (i < 3) {
			t.Errorf("%s: compared by its digest: %t", r.entry.Path, byDigest)
		}
		body.Close()
	}
}
