package ingest

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"reflect"
	"runtime"
	"strings"
	"testing"
	"time"

	"leadline/ingest/cache"
	"leadline/ingest/dcm"
)

// settledCopy copies a folder; every file of the copy was changed last long ago.
func settledCopy(t testing.TB, from string) string {
	t.Helper()
	to := t.TempDir()
	if err := os.CopyFS(to, os.DirFS(from)); err != nil {
		t.Fatal(err)
	}
	settle(t, to)
	return to
}

func settle(t testing.TB, dir string) {
	t.Helper()
	longAgo := time.Date(2026, 9, 2, 10, 30, 0, 0, time.UTC)
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || !d.Type().IsRegular() {
			return err
		}
		return os.Chtimes(path, longAgo, longAgo)
	})
	if err != nil {
		t.Fatal(err)
	}
}

// loadWith loads dir with a cache that holds old, and returns the new cache.
func loadWith(t testing.TB, old []byte, dir string, workers int) (*Archive, []byte) {
	t.Helper()
	var out bytes.Buffer
	c, ignored := cache.Open(bytes.NewReader(old), int64(len(old)), "program", &out)
	if ignored != nil {
		t.Fatal(ignored)
	}
	archive, err := Load(context.Background(), []string{dir}, Options{Workers: workers, Cache: c})
	if err != nil {
		t.Fatal(err)
	}
	changed, err := c.Finish([]string{dir}, true)
	if err != nil || c.Rejected() > 0 {
		t.Fatalf("%v, %d records rejected", err, c.Rejected())
	}
	if !changed {
		return archive, old
	}
	return archive, out.Bytes()
}

// wantSameArchive compares two readings, rows and instances.
func wantSameArchive(t *testing.T, what string, got, want *Archive) {
	t.Helper()
	if len(want.Ledger) == 0 || len(got.Ledger) != len(want.Ledger) {
		t.Fatalf("%s: %d rows, want %d", what, len(got.Ledger), len(want.Ledger))
	}
	for i := range want.Ledger {
		if got.Ledger[i] != want.Ledger[i] {
			t.Errorf("%s: row %+v, want %+v", what, got.Ledger[i], want.Ledger[i])
		}
	}
	if !reflect.DeepEqual(got.Instances, want.Instances) {
		t.Errorf("%s: other instances", what)
	}
}

// TestCache reads without a cache, with an empty one and with a full one, and wants
// the same each time: everything that is met in exports, containers, copies, links
// and hostile files among it.
func TestCache(t *testing.T) {
	odd := oddFolder(t)
	settle(t, odd)
	for name, dir := range map[string]string{
		"demo": settledCopy(t, "../testdata/demo"), "hostile": settledCopy(t, "../testdata/hostile"), "odd": odd,
	} {
		t.Run(name, func(t *testing.T) {
			without, err := Load(context.Background(), []string{dir}, Options{})
			if err != nil {
				t.Fatal(err)
			}
			cold, kept := loadWith(t, nil, dir, 2)
			wantSameArchive(t, "empty cache", cold, without)
			warm, again := loadWith(t, kept, dir, 3)
			wantSameArchive(t, "full cache", warm, without)
			if &again[0] != &kept[0] {
				t.Error("the cache changed, and no file did")
			}
		})
	}
}

// TestCacheOpensNothing replaces every file's bytes behind the cache's back: size,
// time and inode stay, so that a file that is opened shows.
func TestCacheOpensNothing(t *testing.T) {
	dir := settledCopy(t, "../testdata/demo/exports/delivery room")
	cold, kept := loadWith(t, nil, dir, 2)
	files := 0
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || !d.Type().IsRegular() {
			return err
		}
		files++
		info, err := d.Info()
		if err != nil {
			return err
		}
		return os.WriteFile(path, bytes.Repeat([]byte("x"), int(info.Size())), 0o600)
	})
	if err != nil || files < 20 {
		t.Fatalf("%d files, %v", files, err)
	}
	settle(t, dir)
	warm, _ := loadWith(t, kept, dir, 2)
	wantSameArchive(t, "full cache", warm, cold)

	// Without it, nothing is found in them.
	if without, err := Load(context.Background(), []string{dir}, Options{}); err != nil || len(without.Instances) > 0 {
		t.Errorf("without a cache: %d instances, %v", len(without.Instances), err)
	}
}

// TestCacheChanged changes a file, adds one and removes one.
func TestCacheChanged(t *testing.T) {
	dir := t.TempDir()
	write(t, dir+"/a", object(usImage, "2.25.1", "2.25.9", usRows))
	write(t, dir+"/b", object(usImage, "2.25.2", "2.25.9", usRows))
	write(t, dir+"/c", object(usImage, "2.25.3", "2.25.9", usRows))
	settle(t, dir)
	_, kept := loadWith(t, nil, dir, 1)
	write(t, dir+"/b", object(usImage, "2.25.4", "2.25.9", usRows))
	write(t, dir+"/d", object(usImage, "2.25.5", "2.25.9", usRows))
	if err := os.Remove(dir + "/c"); err != nil {
		t.Fatal(err)
	}
	warm, again := loadWith(t, kept, dir, 1)
	without, err := Load(context.Background(), []string{dir}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	wantSameArchive(t, "full cache", warm, without)
	for name, want := range map[string]bool{"a": true, "b": false, "c": false, "d": false} { // b and d are too young
		if got := bytes.Contains(again, []byte(dir+"/"+name)); got != want {
			t.Errorf("%s is in the cache: %v, want %v", name, got, want)
		}
	}
}

// faultyFile is a disk that fails behind an offset.
type faultyFile struct {
	data []byte
	good int64
}

func (f *faultyFile) ReadAt(b []byte, off int64) (int, error) {
	if off+int64(len(b)) > f.good {
		return 0, errors.New("disk fault")
	}
	return bytes.NewReader(f.data).ReadAt(b, off)
}

// TestCacheNotOfFaults wants nothing kept of a file that the disk did not give all
// of, even where the scan makes do: looking for the end of the pixel data it does.
func TestCacheNotOfFaults(t *testing.T) {
	fragments := "\xE0\x7F\x10\x00OB\x00\x00\xFF\xFF\xFF\xFF\xFE\xFF\x00\xE0\x00\x00\x01\x00" + strings.Repeat("p", 0x10000) + "\xFE\xFF\xDD\xE0\x00\x00\x00\x00"
	data := object(usImage, "2.25.1", "2.25.9", usRows+fragments)
	size := int64(len(data))
	for name, c := range map[string]struct {
		good    int64
		outcome bool // of the scan, as an error
		keeping bool
	}{
		"whole":                  {size, false, true},
		"fault at the end":       {size - 8, false, false},
		"fault at the beginning": {100, true, false},
	} {
		m := newMemory(&cache.Cache{})
		header, err := dcm.Scan(m.watch(&faultyFile{data, c.good}, size), size)
		m.take(header, err)
		if (err != nil) != c.outcome || m.keeping != c.keeping {
			t.Errorf("%s: %v, keeping %v", name, err, m.keeping)
		}
	}
	m := newMemory(&cache.Cache{})
	header, err := dcm.Scan(m.watch(bytes.NewReader(data[:200]), size), size)
	if m.take(header, err); m.keeping {
		t.Errorf("became shorter while it was read (%v): kept", err)
	}
}

// TestCacheInterrupted: what was read before an interruption is in the cache.
func TestCacheInterrupted(t *testing.T) {
	dir := settledCopy(t, "../testdata/demo/exports/delivery room")
	var out bytes.Buffer
	c, _ := cache.Open(nil, 0, "program", &out)
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	done := 0
	_, err := Load(ctx, []string{dir}, Options{Workers: 1, Cache: c, Progress: func(p Progress) {
		if done = p.Done; done == 5 {
			cancel()
		}
	}})
	if !errors.Is(err, context.Canceled) {
		t.Fatal(err)
	}
	if changed, err := c.Finish([]string{dir}, false); err != nil || !changed {
		t.Fatalf("changed %v, %v", changed, err)
	}
	if n := bytes.Count(out.Bytes(), []byte(dir)); n != done || done < 5 {
		t.Errorf("%d records of %d files read", n, done)
	}
	full, _ := loadWith(t, out.Bytes(), dir, 2)
	without, err := Load(context.Background(), []string{dir}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	wantSameArchive(t, "cache of an interrupted run", full, without)
}

// sealed makes the cache of one file whose record are these bytes, as a program would
// that knows the format: a heading, a frame of length and checksum, the end.
func sealed(path string, info fs.FileInfo, record []byte) []byte {
	var out bytes.Buffer
	c, _ := cache.Open(nil, 0, "program", &out)
	c.Keep(path, info, time.Now(), record)
	if _, err := c.Finish(nil, true); err != nil {
		panic(err)
	}
	return out.Bytes()
}

// resealed corrects the checksum of every frame that data holds, so that what is
// behind the checksum is tried too.
func resealed(data []byte) []byte {
	data = bytes.Clone(data)
	at := bytes.IndexByte(data, '\n') + 1
	for n := uint64(0); at+8 <= len(data); n++ {
		length := binary.LittleEndian.Uint32(data[at:])
		body := data[at+8:]
		sum := crc32.New(crc32.MakeTable(crc32.Castagnoli))
		if length == 0 {
			sum.Write(binary.LittleEndian.AppendUint32(nil, 8))
			sum.Write(binary.LittleEndian.AppendUint64(nil, n))
			binary.LittleEndian.PutUint32(data[at+4:], sum.Sum32())
			return data
		}
		if int64(length) > int64(len(body)) {
			return data
		}
		sum.Write(data[at : at+4])
		sum.Write(body[:length])
		binary.LittleEndian.PutUint32(data[at+4:], sum.Sum32())
		at += 8 + int(length)
	}
	return data
}

// FuzzCache takes bytes for a cache, as they are and with their checksums set right:
// reading with it ends without panic, in memory in proportion, with one row for the
// one file there is; and that row is the file's own wherever the cache does not hold
// a record for it.
func FuzzCache(f *testing.F) {
	dir := f.TempDir()
	path := dir + "/a"
	if err := os.WriteFile(path, object(usImage, "2.25.1", "2.25.9", usRows), 0o600); err != nil {
		f.Fatal(err)
	}
	settle(f, dir)
	info, err := os.Stat(path)
	if err != nil {
		f.Fatal(err)
	}
	_, kept := loadWith(f, nil, dir, 1)
	own := readWith(f, nil, path)
	f.Add(kept)
	f.Add(kept[:len(kept)-8])
	f.Add([]byte("leadline cache 1 program\n\xFF\xFF\xFF\xFF\x00\x00\x00\x00"))
	f.Add(sealed(path, info, nil))
	f.Add(sealed(path, info, []byte("\xFF\xFF\xFF\xFF\xFF\xFF\xFF\xFF\x00\x00\x00\x00\x00\x00\x00\x00\x00")))
	f.Fuzz(func(t *testing.T, data []byte) {
		for _, bytes := range [][]byte{data, resealed(data), sealed(path, info, data)} {
			tryCache(t, bytes, path, own)
		}
	})
}

// readWith is the row of one file, read as a worker does, without its goroutine: what
// runs at once confuses the fuzzer.
func readWith(t testing.TB, c *cache.Cache, path string) row {
	t.Helper()
	l := &loader{pool: newPool()}
	w := &worker{loader: l, builder: builder{pool: l.pool}, kept: newMemory(c)}
	w.read(met{path: path})
	if w.made != 1 {
		t.Fatalf("%d rows for one file", w.made)
	}
	return w.rows[0][0]
}

func tryCache(t *testing.T, data []byte, path string, own row) {
	t.Helper()
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	c, ignored := cache.Open(bytes.NewReader(data), int64(len(data)), "program", io.Discard)
	got := readWith(t, c, path)
	runtime.ReadMemStats(&after)
	if n := after.TotalAlloc - before.TotalAlloc; n > uint64(4<<20+300*len(data)) {
		t.Errorf("%d bytes allocated for a cache of %d bytes", n, len(data))
	}
	if strings.Contains(got.entry.Reason, "unexpected fault") {
		t.Error("the reading ended in a panic")
	}
	if (ignored != nil || c.Rejected() > 0) && !reflect.DeepEqual(got, own) {
		t.Errorf("a cache of no use, and the row is %+v, want %+v", got.entry, own.entry)
	}
	if _, err := c.Finish([]string{filepath.Dir(path)}, true); err != nil {
		t.Errorf("finishing: %v", err)
	}
}
