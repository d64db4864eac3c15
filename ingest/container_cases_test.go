package ingest

import (
	"archive/tar"
	"archive/zip"
	"bytes"
	"compress/flate"
	"context"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"reflect"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"
)

// entryOf is one member of a ZIP archive written by hand (APPNOTE 4.3), to say what
// the library's writer would not.
type entryOf struct {
	name   string
	method uint16
	flags  uint16
	// data stand in the archive as they are; size is that of the inflated file, by
	// default theirs.
	data []byte
	size uint64
	crc  uint32
	// same lets the entry point at the data of the first.
	same bool
	// zip64 writes sizes and offset in an extra field (APPNOTE 4.5.3).
	zip64 bool
	// unixMode is the mode of the file for the external attributes.
	unixMode uint32
}

func writtenByHand(entries ...entryOf) []byte {
	var body, list []byte
	le := binary.LittleEndian
	for _, e := range entries {
		if e.size == 0 {
			e.size = uint64(len(e.data))
		}
		packed, size, offset := uint32(len(e.data)), uint32(e.size), uint32(len(body))
		var extra []byte
		if e.same {
			offset = 0
		}
		if e.zip64 {
			extra = le.AppendUint16(extra, 1)
			extra = le.AppendUint16(extra, 24)
			extra = le.AppendUint64(extra, e.size)
			extra = le.AppendUint64(extra, uint64(len(e.data)))
			extra = le.AppendUint64(extra, uint64(offset))
			packed, size, offset = ^uint32(0), ^uint32(0), ^uint32(0)
		}
		common := le.AppendUint16(nil, 45) // version needed
		common = le.AppendUint16(common, e.flags)
		common = le.AppendUint16(common, e.method)
		common = append(common, make([]byte, 4)...) // time and date
		common = le.AppendUint32(common, e.crc)
		common = le.AppendUint32(common, packed)
		common = le.AppendUint32(common, size)
		common = le.AppendUint16(common, uint16(len(e.name)))
		common = le.AppendUint16(common, uint16(len(extra)))
		if !e.same {
			body = append(append(body, "PK\x03\x04"...), common...)
			body = append(append(append(body, e.name...), extra...), e.data...)
		}
		list = append(append(list, "PK\x01\x02\x2D\x03"...), common...) // made on Unix
		list = append(list, make([]byte, 2+2+2)...)                     // comment, disk, internal attributes
		list = le.AppendUint32(list, e.unixMode<<16)
		list = le.AppendUint32(list, offset)
		list = append(append(list, e.name...), extra...)
	}
	end := append([]byte("PK\x05\x06"), make([]byte, 4)...)
	end = le.AppendUint16(end, uint16(len(entries)))
	end = le.AppendUint16(end, uint16(len(entries)))
	end = le.AppendUint32(end, uint32(len(list)))
	end = le.AppendUint32(end, uint32(len(body)))
	return append(append(append(body, list...), end...), 0, 0)
}

// stored is a member that stands in the archive as it is.
func stored(name string, data []byte) entryOf {
	return entryOf{name: name, data: data, crc: crc32.ChecksumIEEE(data)}
}

// squeezed is a deflated member.
func squeezed(t *testing.T, name string, data []byte) entryOf {
	t.Helper()
	var b bytes.Buffer
	w, err := flate.NewWriter(&b, flate.DefaultCompression)
	if err == nil {
		_, err = w.Write(data)
	}
	if err == nil {
		err = w.Close()
	}
	if err != nil {
		t.Fatal(err)
	}
	return entryOf{name: name, method: zip.Deflate, data: b.Bytes(), size: uint64(len(data)), crc: crc32.ChecksumIEEE(data)}
}

func (e entryOf) with(change func(*entryOf)) entryOf {
	change(&e)
	return e
}

// tarOf writes headers with their data.
func tarOf(t *testing.T, headers ...tar.Header) []byte {
	t.Helper()
	var b bytes.Buffer
	w := tar.NewWriter(&b)
	for _, h := range headers {
		data := picture(h.Uid)
		if h.Typeflag != tar.TypeReg {
			data = nil
		}
		if h.Uid = 0; h.Typeflag != tar.TypeXGlobalHeader {
			h.Mode, h.Size = 0o600, int64(len(data))
		}
		if err := w.WriteHeader(&h); err != nil {
			t.Fatal(err)
		}
		if _, err := w.Write(data); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// picture is an image of its own SOP Instance UID.
func picture(n int) []byte {
	return object(usImage, fmt.Sprintf("2.25.%d", 100+n), "2.25.9", usRows)
}

// rowsOf loads one container and lists the rows of its members, then its own.
func rowsOf(t *testing.T, name string, content []byte) []string {
	t.Helper()
	dir := t.TempDir()
	write(t, dir+"/"+name, content)
	archive, err := Load(context.Background(), []string{dir}, Options{Workers: 2})
	if err != nil {
		t.Fatal(err)
	}
	own, rows := "", []string(nil)
	for _, e := range archive.Ledger {
		line := fmt.Sprintf("%s %s", strings.TrimPrefix(e.Path, dir+"/"+name), e.Outcome)
		if e.Reason != "" {
			line += ": " + e.Reason
		}
		if e.Path == dir+"/"+name {
			own = strings.TrimSpace(line)
			continue
		}
		rows = append(rows, line)
	}
	return append(rows, own)
}

// TestContainerCases reads every odd thing that archives hold. Each member has its
// row, the run goes on behind it, and the last row is that of the archive.
func TestContainerCases(t *testing.T) {
	a, b := picture(1), picture(2)
	zipOf := func(n int) string { return fmt.Sprintf("not-dicom: a ZIP archive, read in place; files in it: %d", n) }
	isTar := func(n int) string { return fmt.Sprintf("not-dicom: a tar archive, read in place; files in it: %d", n) }
	folder := entryOf{name: "d/", unixMode: 0o040755}
	deep := func(inner []byte) []byte { return zipped(t, zip.Deflate, packed{"x.dcm", a}, packed{"in.zip", inner}) }
	long := strings.Repeat("folder/", 30) + "IM1"
	whole := zipped(t, zip.Deflate, packed{"1", a}, packed{"2", b})
	for _, c := range []struct {
		name    string
		content []byte
		want    []string
	}{
		{"stored and deflated", writtenByHand(stored("1", a), squeezed(t, "2", b)), []string{"!/1 image", "!/2 image", zipOf(2)}},
		{"data descriptors", whole, []string{"!/1 image", "!/2 image", zipOf(2)}},
		{"zip64", writtenByHand(stored("1", a).with(func(e *entryOf) { e.zip64 = true }), squeezed(t, "2", b).with(func(e *entryOf) { e.zip64 = true })),
			[]string{"!/1 image", "!/2 image", zipOf(2)}},
		{"empty zip", writtenByHand(), []string{zipOf(0)}},
		{"folders", writtenByHand(folder, entryOf{name: `e\`}, entryOf{name: "f", unixMode: 0o040755}, stored("d/1", a)), []string{"!/d/1 image", zipOf(1)}},
		{"a folder that holds bytes", writtenByHand(stored("d/", a), stored("1", b)),
			[]string{"!/1 image", "!/d image", zipOf(2)}},
		{"encrypted", writtenByHand(stored("1", a).with(func(e *entryOf) { e.flags = 1 }), stored("2", b)),
			[]string{"!/1 unreadable: it is encrypted; unpack the archive with its password", "!/2 image", zipOf(2)}},
		{"another method", writtenByHand(stored("1", a).with(func(e *entryOf) { e.method = 93 }), stored("2", b)),
			[]string{"!/1 unreadable: it is compressed by method 93 of ZIP, which is not read; unpack the archive", "!/2 image", zipOf(2)}},
		{"a wrong checksum", writtenByHand(squeezed(t, "1", a).with(func(e *entryOf) { e.crc++ }), stored("2", b)),
			[]string{"!/1 unreadable: cannot be read: zip: checksum error", "!/2 image", zipOf(2)}},
		{"damaged data", writtenByHand(squeezed(t, "1", a).with(func(e *entryOf) { e.data = bytes.Repeat([]byte{0xFF}, 40) }), stored("2", b)),
			[]string{"!/1 unreadable: cannot be read: flate: corrupt input before offset 1", "!/2 image", zipOf(2)}},
		{"a size that is wrong", writtenByHand(squeezed(t, "1", a).with(func(e *entryOf) { e.size += 9 }), squeezed(t, "2", b)),
			[]string{"!/1 unreadable: the header cannot be read: at offset 0 of a compressed stream: the data are damaged or cut short (unexpected EOF)", "!/2 image", zipOf(2)}},
		{"a size that no file has", writtenByHand(stored("1", a).with(func(e *entryOf) { e.zip64, e.size = true, 1<<63+5 }), stored("2", b)),
			[]string{"!/1 unreadable: it claims a size that no file has", "!/2 image", zipOf(2)}},
		{"overlapping members", writtenByHand(stored("1", bytes.Repeat(a, 9)), stored("1", bytes.Repeat(a, 9)).with(func(e *entryOf) { e.same = true })),
			[]string{"!/1 unreadable: the files of the archive claim more bytes than it has: they overlap, and are not read",
				"!/1 (2) unreadable: the files of the archive claim more bytes than it has: they overlap, and are not read", zipOf(2)}},
		{"names", writtenByHand(stored("/etc/1", picture(1)), stored("../../up/2", picture(2)), stored(`win\3`, picture(3)), stored("\xFF\xFE/4", picture(4)),
			stored("", picture(5)), stored("a\nb", picture(6)), stored("..", picture(7)), stored("./8", picture(8)), stored("c/./../8", picture(9))),
			[]string{"!/(no name) image", "!/(no name) (2) image", "!/8 image", "!/8 (2) image", `!/a\x0Ab image`, "!/etc/1 image", "!/up/2 image", "!/win/3 image", `!/\xFF\xFE/4 image`, zipOf(9)}},
		{"one name twice", writtenByHand(stored("1", a), stored("1", b), stored("1", a)),
			[]string{"!/1 image", "!/1 (2) image", "!/1 (3) duplicate: the same bytes as the file met before with this SOP Instance UID", zipOf(3)}},
		{"a link in a zip", writtenByHand(stored("1", []byte("../elsewhere")).with(func(e *entryOf) { e.unixMode = 0o120777 }), stored("2", b)),
			[]string{"!/1 not-dicom: not a regular file: a link within an archive; not followed", "!/2 image", zipOf(2)}},
		{"no list", whole[:len(whole)-30], []string{"unreadable: a ZIP archive that cannot be read to its end (files before: 0): reading the list of files: zip: not a valid zip file"}},
		{"zip in a zip in a zip", deep(deep(deep(nil))), []string{
			"!/in.zip not-dicom: a ZIP archive, read in place; files in it: 2",
			"!/in.zip!/in.zip unreadable: a ZIP archive within an archive within an archive, which is not opened; unpack it",
			"!/in.zip!/x.dcm image", "!/x.dcm duplicate: the same bytes as the file met before with this SOP Instance UID", zipOf(2)}},
		{"tar, tar.gz and zip in a tar", tarred(t, packed{"t", tarred(t, packed{"1", a})}, packed{"tgz", gzipped(t, tarred(t, packed{"2", b}))}, packed{"z", whole}), []string{
			"!/t not-dicom: a tar archive, read in place; files in it: 1", "!/t!/1 image",
			"!/tgz not-dicom: a gzip-compressed tar archive, read in place; files in it: 1", "!/tgz!/2 image",
			"!/z not-dicom: a ZIP archive, read in place; files in it: 2",
			"!/z!/1 duplicate: the same bytes as the file met before with this SOP Instance UID",
			"!/z!/2 duplicate: the same bytes as the file met before with this SOP Instance UID", isTar(3)}},
		{"copies in compressed archives", gzipped(t, tarred(t, packed{"1", a}, packed{"2", a}, packed{"3", object(usImage, "2.25.101", "2.25.9", usRows+usRows)}, packed{"z", whole})), []string{
			"!/1 image", "!/2 duplicate: the same bytes as the file met before with this SOP Instance UID",
			"!/3 conflict: another file met before has this SOP Instance UID and other bytes; this one is not used",
			"!/z not-dicom: a ZIP archive, read in place; files in it: 2",
			"!/z!/1 duplicate: the same bytes as the file met before with this SOP Instance UID", "!/z!/2 image",
			"not-dicom: a gzip-compressed tar archive, read in place; files in it: 4"}},
		{"what is no file in a tar", tarOf(t, tar.Header{Name: "d/", Typeflag: tar.TypeDir}, tar.Header{Name: "d/1", Typeflag: tar.TypeReg, Uid: 1},
			tar.Header{Name: "hard", Linkname: "d/1", Typeflag: tar.TypeLink}, tar.Header{Name: "soft", Linkname: "/etc/passwd", Typeflag: tar.TypeSymlink},
			tar.Header{Name: "pipe", Typeflag: tar.TypeFifo}, tar.Header{Name: "dev", Typeflag: tar.TypeChar},
			tar.Header{Typeflag: tar.TypeXGlobalHeader, PAXRecords: map[string]string{"comment": "x"}}, tar.Header{Name: "2", Typeflag: tar.TypeReg, Uid: 2}),
			[]string{"!/2 image", "!/d/1 image", "!/dev not-dicom: not a regular file: a device", "!/hard not-dicom: not a regular file: a link within an archive; not followed",
				"!/pipe not-dicom: not a regular file: a named pipe", "!/soft not-dicom: not a regular file: a link within an archive; not followed", isTar(6)}},
		{"long names in a tar", tarOf(t, tar.Header{Name: long, Typeflag: tar.TypeReg, Uid: 1, Format: tar.FormatPAX}, tar.Header{Name: long + "2", Typeflag: tar.TypeReg, Uid: 2, Format: tar.FormatGNU}),
			[]string{"!/" + long + " image", "!/" + long + "2 image", isTar(2)}},
		{"a name longer than is shown", tarOf(t, tar.Header{Name: strings.Repeat("é", maxName), Typeflag: tar.TypeReg, Uid: 1}, tar.Header{Name: "x" + strings.Repeat("é", maxName), Typeflag: tar.TypeReg, Uid: 2}),
			[]string{"!/x" + strings.Repeat("é", maxName/2-1) + "… image", "!/" + strings.Repeat("é", maxName/2) + "… image", isTar(2)}},
		{"names in a tar", tarOf(t, tar.Header{Name: "/1", Typeflag: tar.TypeReg, Uid: 1}, tar.Header{Name: "../2", Typeflag: tar.TypeReg, Uid: 2}, tar.Header{Name: `a\3`, Typeflag: tar.TypeReg, Uid: 3}),
			[]string{"!/1 image", "!/2 image", `!/a\3 image`, isTar(3)}},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := rowsOf(t, "c", c.content); !reflect.DeepEqual(got, c.want) {
				t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(c.want, "\n"))
			}
		})
	}
}

// TestContainerCut cuts a tar and a compressed one at many places: the members
// before the cut are read, and the archive's own row says that it ends early.
func TestContainerCut(t *testing.T) {
	members := []packed{{"1", picture(1)}, {"2", noise(picture(2), 40_000)}, {"3", picture(3)}}
	for name, whole := range map[string][]byte{"tar": tarred(t, members...), "tar.gz": gzipped(t, tarred(t, members...))} {
		images := map[int]bool{}
		for part := 1; part <= 20; part++ {
			rows := rowsOf(t, "c", whole[:len(whole)*part/21])
			own := rows[len(rows)-1]
			if !strings.Contains(own, "unreadable: a") || !strings.Contains(own, "cannot be read to its end") {
				t.Errorf("%s cut to %d of 21 parts: %s", name, part, own)
			}
			n := 0
			for _, r := range rows {
				if strings.HasSuffix(r, " image") {
					n++
				}
			}
			images[n] = true
		}
		if !images[2] || images[3] {
			t.Errorf("%s: numbers of images %v over all cuts", name, images)
		}
	}
}

// noise appends pixel data that do not compress.
func noise(image []byte, n int) []byte {
	pixels := make([]byte, n)
	r := rand.New(rand.NewPCG(1, 2))
	for i := range pixels {
		pixels[i] = byte(r.Uint32())
	}
	image = append(image, "\xE0\x7F\x10\x00OB\x00\x00"...)
	image = binary.LittleEndian.AppendUint32(image, uint32(n))
	return append(image, pixels...)
}

// TestContainerBomb: a member of a gigabyte in a megabyte, and one whose header
// never ends, cost the inflated bytes of a header and no more.
func TestContainerBomb(t *testing.T) {
	const mebibyte, times = 1 << 20, 1024
	var b bytes.Buffer
	w, err := flate.NewWriter(&b, flate.BestCompression)
	if err != nil {
		t.Fatal(err)
	}
	head := append(picture(1), "\xE0\x7F\x10\x00OB\x00\x00\x00\x00\x00\x40"...) // pixel data of 1 GiB
	if _, err := w.Write(head); err != nil {
		t.Fatal(err)
	}
	flush := func() int {
		if err := w.Flush(); err != nil {
			t.Fatal(err)
		}
		return b.Len()
	}
	flush()
	if _, err := w.Write(make([]byte, mebibyte)); err != nil {
		t.Fatal(err)
	}
	flush()
	from := b.Len()
	if _, err := w.Write(make([]byte, mebibyte)); err != nil {
		t.Fatal(err)
	}
	to := flush()
	zeros := append([]byte(nil), b.Bytes()[from:to]...)
	for range times - 2 {
		b.Write(zeros) // the window before holds zeros only: the same block again
	}
	b.WriteString("\x03\x00") // the last block, empty (RFC 1951 3.2.6)
	bomb := entryOf{name: "bomb", method: zip.Deflate, data: b.Bytes(), size: uint64(len(head) + times*mebibyte)}
	content := writtenByHand(bomb, stored("good", picture(2)))
	if len(content) > 2*mebibyte {
		t.Fatalf("the archive has %d bytes", len(content))
	}
	got := rowsOf(t, "c", content)
	if want := []string{"!/bomb image", "!/good image", "not-dicom: a ZIP archive, read in place; files in it: 2"}; !reflect.DeepEqual(got, want) {
		t.Errorf("got %q", got)
	}
}

// TestContainerManyMembers: each of a hundred thousand empty members has its row.
func TestContainerManyMembers(t *testing.T) {
	const n = 100_000
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for i := range n {
		if _, err := z.CreateHeader(&zip.FileHeader{Name: fmt.Sprintf("d/%06d", i)}); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	rows := rowsOf(t, "c", b.Bytes())
	if len(rows) != n+1 || rows[0] != "!/d/000000 not-dicom: not a DICOM file: the file is empty" || rows[n] != "not-dicom: a ZIP archive, read in place; files in it: 100000" {
		t.Errorf("%d rows, the first %q, the last %q", len(rows), rows[0], rows[len(rows)-1])
	}
}

// TestContainerList: more files than the ledger keeps of one archive are an error
// of the archive, in a list of its own and in all that lie within it.
func TestContainerList(t *testing.T) {
	const members = 7
	inner := zipped(t, zip.Deflate, packed{"1", picture(1)}, packed{"2", picture(2)}, packed{"3", picture(3)})
	content := zipped(t, zip.Deflate, packed{"a", picture(4)}, packed{"b.zip", inner}, packed{"c.zip", inner})
	for room := range members + 1 {
		w := newTestWorker()
		c := w.contentsOf(zipArchive, "c", bytes.NewReader(content), int64(len(content)))
		c.left.Store(int64(room * (ofRow + len("c!/b.zip!/3"))))
		w.expand(Entry{}, c)
		failed := 0
		for _, r := range w.rows[0] {
			if strings.Contains(r.entry.Reason, "it holds more files than are listed of one archive") {
				failed++
			}
		}
		if w.made > room+2 || failed == 0 {
			t.Errorf("room for %d: %d rows, of which %d say that there were more", room, w.made, failed)
		}
	}
	long := &listing{r: bytes.NewReader(content), left: 30}
	if _, err := zip.NewReader(long, int64(len(content))); err == nil || !strings.Contains(err.Error(), "the list is longer than is read") {
		t.Errorf("a list that is too long: %v", err)
	}
}

// newTestWorker is a worker alone, outside of Load.
func newTestWorker() *worker {
	l := &loader{run: context.Background(), pool: newPool(), tasks: make(chan task), idle: make(chan struct{})}
	return &worker{loader: l, builder: builder{pool: l.pool}, ctx: context.Background()}
}

// counting counts the bytes that are read.
type counting struct {
	io.ReaderAt
	n atomic.Int64
}

func (c *counting) ReadAt(b []byte, off int64) (int, error) {
	n, err := c.ReaderAt.ReadAt(b, off)
	c.n.Add(int64(n))
	return n, err
}

// TestContainerBytesRead: of large members only what holds the header is read, but
// in a compressed tar, where all that stands before a file must be inflated.
func TestContainerBytesRead(t *testing.T) {
	// Inflating works through a window of 32 KiB (RFC 1951).
	const members, pixels, most = 4, 1_000_000, 40_000
	var files []packed
	for i := range members {
		files = append(files, packed{fmt.Sprint(i), noise(picture(i), pixels)})
	}
	for _, c := range []struct {
		kind    container
		content []byte
		most    int64
	}{
		{zipArchive, zipped(t, zip.Deflate, files...), members * most},
		{zipArchive, zipped(t, zip.Store, files...), members * most},
		{tarArchive, tarred(t, files...), members * most},
		{gzipTar, gzipped(t, tarred(t, files...)), members * (pixels + most)},
	} {
		r := &counting{ReaderAt: bytes.NewReader(c.content)}
		w := newTestWorker()
		w.expand(Entry{}, w.contentsOf(c.kind, "c", r, int64(len(c.content))))
		if n := r.n.Load(); n > c.most || w.made != members+1 || w.rows[0][0].inst == nil {
			t.Errorf("%s: %d bytes read of %d, %d rows", c.kind, n, len(c.content), w.made)
		}
	}
}

// TestContainerStops: a run that ends does not wait for a large archive.
func TestContainerStops(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	files := []packed{{"1", picture(1)}, {"2", picture(2)}}
	for kind, content := range map[container][]byte{
		zipArchive: zipped(t, zip.Store, files...), tarArchive: tarred(t, files...), gzipTar: gzipped(t, tarred(t, files...)),
	} {
		w := newTestWorker()
		w.ctx = ctx
		w.expand(Entry{}, w.contentsOf(kind, "c", bytes.NewReader(content), int64(len(content))))
		if w.made != 1 {
			t.Errorf("%s: %d rows", kind, w.made)
		}
	}
}

// TestContainerShared: the archive is the same whatever the number of workers that
// share the members of large ZIP archives, one in the other.
func TestContainerShared(t *testing.T) {
	dir := t.TempDir()
	var inner, outer []packed
	for i := range 300 {
		inner = append(inner, packed{fmt.Sprintf("%03d", i%250), picture(i)})
		outer = append(outer, packed{fmt.Sprintf("%03d", i%250), picture(2 * i)})
	}
	outer = append(outer, packed{"in.zip", zipped(t, zip.Deflate, inner...)}, packed{"in.zip", zipped(t, zip.Store, inner...)})
	for _, name := range []string{"a", "b", "c"} {
		write(t, dir+"/"+name, zipped(t, zip.Deflate, outer...))
	}
	var first *Archive
	for _, workers := range []int{1, 2, 8} {
		last := Progress{}
		archive, err := Load(context.Background(), []string{dir}, Options{Workers: workers, Progress: func(p Progress) { last = p }})
		if err != nil {
			t.Fatal(err)
		}
		if first == nil {
			first = archive
		}
		const rows = 3 * (1 + 300 + 2 + 2*300)
		if len(archive.Ledger) != rows || last.Done != rows || last.Found != rows {
			t.Errorf("%d workers: %d rows, %d of %d counted, want %d", workers, len(archive.Ledger), last.Done, last.Found, rows)
		}
		if !reflect.DeepEqual(first, archive) {
			t.Errorf("%d workers read another archive than 1", workers)
		}
	}
}

// TestContainerBoundsShared: which of the archives within one are refused by its bounds
// is the same, whichever worker comes first.
func TestContainerBoundsShared(t *testing.T) {
	far := "\x09\x00\x01\x10OB\x00\x00\x00\x40\x00\x00" + strings.Repeat("\x00", 0x4000)
	var files []packed
	for i := range handful + 1 {
		large := object(usImage, fmt.Sprintf("2.25.%d", i+1), "2.25.9", far+usRows)
		files = append(files, packed{fmt.Sprintf("%02d.zip", i), zipped(t, zip.Deflate, packed{"a", large}, packed{"b", large})})
	}
	for _, method := range []uint16{zip.Store, zip.Deflate} {
		content := zipped(t, method, files...)
		for bound, set := range map[string]func(*contents){
			"it holds more files": func(c *contents) { c.left.Store(handful * 3 * int64(ofRow+len("c!/00.zip!/a"))) },
			"bytes inflated":      func(c *contents) { c.ration.left.Store(handful * 0x8000) },
		} {
			alone, helped := boundedRows(content, set, false), boundedRows(content, set, true)
			if !slices.Equal(alone, helped) || !strings.Contains(strings.Join(alone, "\n"), bound) {
				t.Errorf("%s: one worker reads\n%s\ntwo read\n%s", bound, strings.Join(alone, "\n"), strings.Join(helped, "\n"))
			}
		}
	}
}

// boundedRows reads a ZIP archive with bounds of its own. A second worker, where there is
// one, gets the first members, and is so slow that it comes last.
func boundedRows(content []byte, set func(*contents), helped bool) (rows []string) {
	const slow = 20 * time.Millisecond
	w := newTestWorker()
	other := &worker{loader: w.loader, builder: builder{pool: w.pool}, ctx: w.ctx}
	var end sync.WaitGroup
	if helped {
		end.Go(func() {
			for t := range w.tasks {
				time.Sleep(slow)
				other.help(t)
			}
		})
		time.Sleep(slow) // until the other waits; a shorter time would only make the test weaker
	}
	c := w.contentsOf(zipArchive, "c", bytes.NewReader(content), int64(len(content)))
	set(c)
	w.expand(Entry{}, c)
	close(w.tasks)
	end.Wait()
	for _, r := range append(madeBy(w), madeBy(other)...) {
		rows = append(rows, r.entry.Path+": "+r.entry.Reason)
	}
	slices.Sort(rows)
	return rows
}

// TestContainerSparse has GNU tar leave the holes of a file out, in each of its
// forms.
func TestContainerSparse(t *testing.T) {
	if out, err := exec.Command("tar", "--version").Output(); err != nil || !strings.Contains(string(out), "GNU tar") {
		t.Skip("skipped: GNU tar is not installed")
	}
	dir := t.TempDir()
	const hole = 1 << 20
	file := append(object(usImage, "2.25.1", "2.25.9", ""), "\x09\x00\x10\x10OB\x00\x00"...)
	file = binary.LittleEndian.AppendUint32(file, hole)
	write(t, dir+"/IM1", file)
	if err := os.Truncate(dir+"/IM1", int64(len(file)+hole)); err != nil {
		t.Fatal(err)
	}
	f, err := os.OpenFile(dir+"/IM1", os.O_APPEND|os.O_WRONLY, 0)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := f.WriteString(usRows); err != nil {
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	for _, form := range []string{"--format=gnu", "--format=pax --sparse-version=0.0", "--format=pax --sparse-version=0.1", "--format=pax --sparse-version=1.0"} {
		args := append(strings.Fields(form), "--sparse", "-C", dir, "-cf", dir+"/s.tar", "IM1")
		if out, err := exec.Command("tar", args...).CombinedOutput(); err != nil {
			t.Fatalf("tar: %v: %s", err, out)
		}
		content, err := os.ReadFile(dir + "/s.tar")
		if err != nil {
			t.Fatal(err)
		}
		got := rowsOf(t, "c", content)
		if want := []string{"!/IM1 image", "not-dicom: a tar archive, read in place; files in it: 1"}; !reflect.DeepEqual(got, want) || len(content) >= hole {
			t.Errorf("%s: an archive of %d bytes gave %q", form, len(content), got)
		}
	}
}
