package cache

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"
)

// long ago every file of these tests was changed last, and now they are read.
var (
	longAgo = time.Date(2026, 9, 2, 10, 30, 0, 123456789, time.UTC)
	now     = longAgo.Add(time.Hour)
)

// file writes a file that was changed long ago.
func file(t testing.TB, path, content string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(content), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Chtimes(path, longAgo, longAgo); err != nil {
		t.Fatal(err)
	}
}

func open(t testing.TB, old []byte, out io.Writer) *Cache {
	t.Helper()
	c, ignored := Open(bytes.NewReader(old), int64(len(old)), "program", out)
	if ignored != nil {
		t.Fatal(ignored)
	}
	return c
}

// run reads the files as a run does: what is not found is kept, its record being its
// content. It returns the new cache and the names of files found.
func run(t testing.TB, old []byte, whole bool, roots []string, files ...string) (cache []byte, found []string, changed bool) {
	t.Helper()
	var out bytes.Buffer
	c := open(t, old, &out)
	var buffer []byte
	for _, path := range files {
		if record, size, ok := c.Find(path, &buffer); ok {
			if int(size) != len(record) {
				t.Errorf("%s: %d bytes, and a record of %d", path, size, len(record))
			}
			found = append(found, filepath.Base(path)+"="+string(record))
			continue
		}
		info, err := os.Stat(path)
		if err != nil || !info.Mode().IsRegular() {
			continue
		}
		content, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		c.Keep(path, info, now, content)
	}
	changed, err := c.Finish(roots, whole)
	if err != nil {
		t.Fatal(err)
	}
	if !changed {
		return old, found, false
	}
	return out.Bytes(), found, true
}

func TestFind(t *testing.T) {
	dir := t.TempDir()
	a, b, c := dir+"/a", dir+"/b", dir+"/c"
	for _, path := range []string{a, b, c} {
		file(t, path, "first "+filepath.Base(path))
	}
	cache, found, changed := run(t, nil, true, []string{dir}, a, b, c)
	if len(found) > 0 || !changed {
		t.Fatalf("found %q in an empty cache, changed %v", found, changed)
	}
	all := []string{"a=first a", "b=first b", "c=first c"}
	again, found, changed := run(t, cache, true, []string{dir}, a, b, c)
	if !slices.Equal(found, all) || changed || !bytes.Equal(again, cache) {
		t.Errorf("found %q, want %q; changed %v", found, all, changed)
	}

	for name, change := range map[string]func(){
		"size":  func() { file(t, b, "second, longer b") },
		"time":  func() { file(t, b, "other b"); os.Chtimes(b, longAgo, longAgo.Add(1)) },
		"inode": func() { file(t, dir+"/new", "newer b"); os.Rename(dir+"/new", b) },
		"gone":  func() { os.Remove(b) },
		"kind":  func() { os.Remove(b); os.Mkdir(b, 0o700) },
	} {
		t.Run(name, func(t *testing.T) {
			os.RemoveAll(b)
			file(t, b, "first b")
			cache, _, _ := run(t, nil, true, []string{dir}, a, b, c)
			change()
			if _, found, _ := run(t, cache, true, []string{dir}, a, b, c); !slices.Equal(found, []string{all[0], all[2]}) {
				t.Errorf("found %q, want a and c", found)
			}
		})
	}
}

// TestUnsettled wants no record of a file that was changed just before it was read,
// or that comes from the future.
func TestUnsettled(t *testing.T) {
	path := t.TempDir() + "/a"
	for age, want := range map[time.Duration]bool{-time.Hour: false, 0: false, 2 * time.Second: false, 2*time.Second + 1: true} {
		file(t, path, "a")
		if err := os.Chtimes(path, now.Add(-age), now.Add(-age)); err != nil {
			t.Fatal(err)
		}
		cache, _, _ := run(t, nil, true, nil, path)
		if _, found, _ := run(t, cache, true, nil, path); len(found) == 1 != want {
			t.Errorf("changed %v before it was read: found %q", age, found)
		}
	}
}

// TestFinish: what is gone leaves the cache, what lies elsewhere or was not come to
// stays.
func TestFinish(t *testing.T) {
	dir := t.TempDir()
	here, gone, elsewhere, beside := dir+"/here/a", dir+"/here/b", dir+"/elsewhere/c", dir+"/here-too/d"
	all := []string{here, gone, elsewhere, beside}
	for _, path := range all {
		file(t, path, filepath.Base(path))
	}
	cache, _, _ := run(t, nil, true, []string{dir}, all...)
	for _, c := range []struct {
		name  string
		whole bool
		roots []string
		files []string
		want  int
	}{
		{"one is gone", true, []string{dir + "/here"}, []string{here}, 3},
		{"interrupted", false, []string{dir + "/here"}, []string{here}, 4},
		{"by the path of a file", true, []string{gone}, nil, 3},
		{"with a separator behind", true, []string{dir + "/here/"}, []string{here}, 3},
		{"everything is gone", true, []string{"/"}, nil, 0},
		{"all met", true, []string{dir}, all, 4},
	} {
		t.Run(c.name, func(t *testing.T) {
			after, _, changed := run(t, cache, c.whole, c.roots, c.files...)
			if changed != (c.want < len(all)) {
				t.Errorf("changed: %v", changed)
			}
			if _, found, _ := run(t, after, true, nil, all...); len(found) != c.want {
				t.Errorf("%q are found after it, want %d", found, c.want)
			}
		})
	}
}

// TestDamage: a cache with any bit changed, cut anywhere, or with bytes behind it is
// ignored as a whole, and never gives another record.
func TestDamage(t *testing.T) {
	dir := t.TempDir()
	a, b := dir+"/a", dir+"/b"
	file(t, a, "record of a")
	file(t, b, "record of b")
	cache, _, _ := run(t, nil, true, nil, a, b)
	useless := func(what string, damaged []byte) error {
		c, ignored := Open(bytes.NewReader(damaged), int64(len(damaged)), "program", io.Discard)
		if ignored == nil {
			t.Errorf("%s: not ignored", what)
		}
		var buffer []byte
		if record, _, ok := c.Find(a, &buffer); ok {
			t.Errorf("%s: found %q", what, record)
		}
		return ignored
	}
	for i := range cache {
		for bit := range 8 {
			damaged := bytes.Clone(cache)
			damaged[i] ^= 1 << bit
			useless(fmt.Sprintf("bit %d of byte %d", bit, i), damaged)
		}
		if i > 0 {
			useless(fmt.Sprintf("cut at %d of %d", i, len(cache)), cache[:i])
		}
	}
	head := len(heading("program"))
	for name, c := range map[string]struct {
		data []byte
		want error
	}{
		"a byte behind":        {append(bytes.Clone(cache), 0), ErrDamaged},
		"another program":      {bytes.Replace(cache, []byte("program"), []byte("Program"), 1), ErrProgram},
		"another version":      {bytes.Replace(cache, []byte("cache 1"), []byte("cache 2"), 1), ErrProgram},
		"a text":               {[]byte("a text\n"), ErrForeign},
		"a huge length":        {append(cache[:head:head], 0xFF, 0xFF, 0xFF, 0xFF, 0, 0, 0, 0), ErrDamaged},
		"a huge record to end": {append(append(cache[:head:head], 0, 0, 0, 2, 0, 0, 0, 0), make([]byte, 1000)...), ErrDamaged},
		"only the line":        {cache[:head], ErrDamaged},
	} {
		if got := useless(name, c.data); !errors.Is(got, c.want) {
			t.Errorf("%s: %v, want %v", name, got, c.want)
		}
	}
}

// TestChangedMeanwhile: a cache that is overwritten while it is in use gives nothing
// wrong, and the new one is not whole.
func TestChangedMeanwhile(t *testing.T) {
	dir := t.TempDir()
	a, b := dir+"/a", dir+"/b"
	file(t, a, "record of a")
	file(t, b, "record of b")
	cache, _, _ := run(t, nil, true, nil, a, b)
	var out bytes.Buffer
	c := open(t, cache, &out)
	cache[bytes.Index(cache, []byte("record of a"))] = 'R'
	var buffer []byte
	if record, _, ok := c.Find(a, &buffer); ok {
		t.Errorf("found %q", record)
	}
	if c.Rejected() != 1 {
		t.Errorf("%d records rejected, want 1", c.Rejected())
	}
	if _, err := c.Finish(nil, true); !errors.Is(err, ErrDamaged) {
		t.Errorf("finished with %v", err)
	}
}

// full is a disk with room for so many bytes.
type full struct{ room int }

func (f *full) Write(b []byte) (int, error) {
	if f.room -= len(b); f.room < 0 {
		return 0, errors.New("no space left")
	}
	return len(b), nil
}

func TestDiskFull(t *testing.T) {
	path := t.TempDir() + "/a"
	file(t, path, strings.Repeat("x", 3<<20))
	for _, room := range []int{0, 2 << 20} {
		c := open(t, nil, &full{room})
		info, err := os.Stat(path)
		if err != nil {
			t.Fatal(err)
		}
		c.Keep(path, info, now, make([]byte, 3<<20))
		if changed, err := c.Finish(nil, true); err == nil || changed {
			t.Errorf("room for %d bytes: changed %v, %v", room, changed, err)
		}
	}
}

func TestProgram(t *testing.T) {
	one, err := Program()
	if err != nil || len(one) != 64 {
		t.Fatalf("%q, %v", one, err)
	}
	if two, err := Program(); err != nil || two != one {
		t.Errorf("%q, then %q, %v", one, two, err)
	}
	if len(heading(one)) > maxHeading {
		t.Errorf("the first line has %d bytes, and %d are looked at", len(heading(one)), maxHeading)
	}
}

// BenchmarkOpen opens a cache of 400,000 files with records of 2,000 bytes, and says
// how much memory that holds.
func BenchmarkOpen(b *testing.B) {
	const files, size = 400_000, 2_000
	out, err := os.Create(filepath.Join(b.TempDir(), "cache"))
	if err != nil {
		b.Fatal(err)
	}
	defer out.Close()
	c := open(b, nil, out)
	some := filepath.Join(b.TempDir(), "some")
	file(b, some, "some")
	info, err := os.Stat(some)
	if err != nil {
		b.Fatal(err)
	}
	record := bytes.Repeat([]byte("0123456789"), size/10)
	for i := range files {
		c.Keep(fmt.Sprintf("/export/2026-09/ward-b/20260902-%03d/US%06d.dcm", i/400, i), info, now, record)
	}
	if _, err := c.Finish(nil, true); err != nil {
		b.Fatal(err)
	}
	end, err := out.Seek(0, io.SeekEnd)
	if err != nil {
		b.Fatal(err)
	}
	var held uint64
	for b.Loop() {
		before := heap()
		c, ignored := Open(out, end, "program", io.Discard)
		if ignored != nil || len(c.index) != files {
			b.Fatalf("%d records, %v", len(c.index), ignored)
		}
		held = heap() - before
		runtime.KeepAlive(c)
	}
	b.SetBytes(end)
	b.ReportMetric(float64(held)/files, "B/file")
}

// heap is how many bytes are in use once all garbage is collected.
func heap() uint64 {
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.HeapAlloc
}
