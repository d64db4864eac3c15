package dcm

import (
	"bytes"
	"errors"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
)

// hostileFiles are small files made to end or swamp a reader.
func hostileFiles(t testing.TB) []string {
	names, err := filepath.Glob("../../testdata/hostile/*.dcm")
	if err != nil || len(names) < 50 {
		t.Fatalf("%d hostile files found (%v), expected 50 and more", len(names), err)
	}
	return names
}

// allocated runs f and returns the bytes it allocated.
func allocated(f func()) uint64 {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	f()
	runtime.ReadMemStats(&after)
	return after.TotalAlloc - before.TotalAlloc
}

// mostAllocated bounds what one file may allocate in all, garbage included: the
// limits allow 16 MiB of values and 250,000 elements of 72 bytes, and growing
// slices allocate about four times what they hold in the end.
const mostAllocated = 128 << 20

func TestScanHostile(t *testing.T) {
	for _, name := range hostileFiles(t) {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if n := allocated(func() { _, _ = scan(data) }); n > 1<<20 {
			t.Errorf("%s: %d bytes allocated", filepath.Base(name), n)
		}
	}
}

// TestScanSwamps builds what is too large to commit.
func TestScanSwamps(t *testing.T) {
	nested := func(levels int) []byte {
		e := &enc{}
		e.text(SOPClassUID, "UI", "1.2.3")
		level := &enc{}
		level.open(ContentSequence)
		level.item(undefinedLength)
		e.Write(bytes.Repeat(level.Bytes(), levels))
		return e.Bytes()
	}
	repeated := func(n int, tag Tag) []byte {
		e := &enc{}
		e.text(SOPClassUID, "UI", "1.2.3")
		e.open(tag)
		child := &enc{}
		child.item(undefinedLength)
		child.us(RegionSpatialFormat, 1)
		child.endItem()
		e.Write(bytes.Repeat(child.Bytes(), n))
		e.endSequence()
		return e.Bytes()
	}
	long := &enc{}
	long.text(SOPClassUID, "UI", "1.2.3")
	long.raw(GraphicData, "UN", strings.Repeat("\x00", 80_000_000))
	noise := make([]byte, 4<<20)
	source := rand.New(rand.NewPCG(1, 2))
	for i := range noise {
		noise[i] = byte(source.Uint32())
	}
	bomb := &enc{}
	bomb.text(SOPClassUID, "UI", "1.2.3")
	bomb.raw(0x00091010, "UN", strings.Repeat("\\", 48<<20))
	for name, c := range map[string]struct {
		data  []byte
		limit bool
	}{
		"five million nested sequences": {nested(5_000_000), true},
		"a million children":            {repeated(1_000_000, ContentSequence), true},
		"ten million points":            {long.Bytes(), true},
		"deflate bomb":                  {withMeta("1.2.840.10008.1.2.1.99", deflated(t, bomb.Bytes())), true},
		"random bytes":                  {noise, false},
		"zeros":                         {make([]byte, 4<<20), false},
	} {
		t.Run(name, func(t *testing.T) {
			var err error
			n := allocated(func() { _, err = scan(c.data) })
			var limit *LimitError
			if err == nil || errors.As(err, &limit) != c.limit {
				t.Errorf("error %v, a limit wanted: %v", err, c.limit)
			}
			if n > mostAllocated {
				t.Errorf("%d bytes allocated", n)
			}
		})
	}
}

// FuzzHeader: whatever the bytes, scanning ends without panic and within its
// limits, and an error is one of the known kinds.
func FuzzHeader(f *testing.F) {
	for _, name := range hostileFiles(f) {
		data, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		if len(data) < 4<<10 {
			f.Add(data)
		}
	}
	for _, s := range []syntax{{}, {implicit: true}, {big: true}} {
		f.Add(body(s))
	}
	f.Add(withMeta("1.2.840.10008.1.2.1.99", deflated(f, body(syntax{}))))
	f.Fuzz(func(t *testing.T, data []byte) {
		var file *File
		n := allocated(func() { file, _ = scan(data) })
		if n > mostAllocated {
			t.Fatalf("%d bytes allocated for %d bytes of file", n, len(data))
		}
		decodeAll(&file.Data, 0)
	})
}

// decodeAll asks for every element in every way.
func decodeAll(d *Dataset, depth int) int {
	n := 0
	for i := range d.Elements {
		tag := d.Elements[i].Tag
		n += len(d.Strings(tag)) + len(d.Floats(tag)) + len(d.Ints(tag)) + len(d.Tags(tag)) + len(d.Text(tag))
		for j := range d.Elements[i].Items {
			n += decodeAll(&d.Elements[i].Items[j], depth+1)
		}
	}
	return n
}
