package dcm

import (
	"bytes"
	"errors"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"leadline/ingest/internal/allocation"
)

// hostileFiles are small files made to end or swamp a reader.
func hostileFiles(t testing.TB) []string {
	names, err := filepath.Glob("../../testdata/hostile/*.dcm")
	if err != nil || len(names) < 50 {
		t.Fatalf("%d hostile files found (%v), expected 50 and more", len(names), err)
	}
	return names
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
		if n := allocation.Of(func() { _, _ = scan(data) }); n > 1<<20 {
			t.Errorf("%s: %d bytes allocated", filepath.Base(name), n)
		}
	}
}

// TestScanSwamps builds what is too large to commit.
func TestScanSwamps(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and hardly anything in it at once")
	}
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
	empty := &enc{}
	empty.text(SOPClassUID, "UI", "1.2.3")
	empty.open(ContentSequence)
	for range 1_000_000 {
		empty.item(0)
	}
	empty.endSequence()
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
		"a million empty items":         {empty.Bytes(), true},
		"deflate bomb":                  {withMeta("1.2.840.10008.1.2.1.99", deflated(t, bomb.Bytes())), true},
		"random bytes":                  {noise, false},
		"zeros":                         {make([]byte, 4<<20), false},
	} {
		t.Run(name, func(t *testing.T) {
			var err error
			n := allocation.Of(func() { _, err = scan(c.data) })
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

// TestTooManyValues: a text element of more values than are split is absent, with
// one problem that says so, however it is asked for; one at the limit is read.
func TestTooManyValues(t *testing.T) {
	for _, c := range []struct {
		separators, values, problems int
	}{{maxValues - 1, maxValues, 0}, {maxValues, 0, 1}} {
		e := &enc{syntax: syntax{implicit: true}}
		e.text(SOPClassUID, "UI", "1.2.3")
		e.raw(FrameTimeVector, "DS", strings.Repeat(`1\`, c.separators)+"1 ")
		f, err := scan(e.Bytes())
		if err != nil {
			t.Fatal(err)
		}
		texts, numbers := f.Data.Strings(FrameTimeVector), f.Data.Floats(FrameTimeVector)
		if len(texts) != c.values || len(numbers) != c.values || len(f.Data.Problems()) != c.problems {
			t.Errorf("%d separators: %d texts, %d numbers, problems %v", c.separators, len(texts), len(numbers), f.Data.Problems())
		}
		f.Data.String(FrameTimeVector)
	}
}

// TestTooMuchText: text of more bytes than are decoded is absent, with a problem,
// however it is asked for; what is allowed is decoded at the cost of its length.
func TestTooMuchText(t *testing.T) {
	for _, n := range []int{maxText, maxText + 2} {
		e := &enc{}
		e.text(SpecificCharacterSet, "CS", `\ISO 2022 IR 166`)
		e.text(SOPClassUID, "UI", "1.2.3")
		e.raw(StudyDescription, "UT", "\x1B-T"+strings.Repeat("\xCB", n-3))
		f, err := scan(e.Bytes())
		if err != nil {
			t.Fatal(err)
		}
		var text string
		if n := allocation.Of(func() { text = f.Data.String(StudyDescription) + f.Data.Text(StudyDescription) }); n > 64*maxText {
			t.Errorf("%d bytes allocated for a text", n)
		}
		if few := len(f.Data.Strings(StudyDescription)); (text == "") != (n > maxText) || (few == 0) != (n > maxText) || (len(f.Data.Problems()) > 0) != (n > maxText) {
			t.Errorf("%d bytes: %d bytes of text, %d values, problems %v", n, len(text), few, f.Data.Problems())
		}
	}
}

// TestItemsAtMost: a sequence of more items than are taken is empty, with a problem.
func TestItemsAtMost(t *testing.T) {
	e := &enc{}
	e.text(SOPClassUID, "UI", "1.2.3")
	e.open(SequenceOfUltrasoundRegions)
	for range 3 {
		e.item(0)
	}
	e.endSequence()
	f, err := scan(e.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	if got := f.Data.ItemsAtMost(SequenceOfUltrasoundRegions, 3); len(got) != 3 || len(f.Data.Problems()) != 0 {
		t.Errorf("%d items of 3, problems %v", len(got), f.Data.Problems())
	}
	if got := f.Data.ItemsAtMost(SequenceOfUltrasoundRegions, 2); len(got) != 0 || len(f.Data.Problems()) != 1 {
		t.Errorf("%d items where 2 are the most, problems %v", len(got), f.Data.Problems())
	}
	if got := f.Data.ItemsAtMost(ContentSequence, 2); got != nil {
		t.Errorf("%d items of a sequence that is not there", len(got))
	}
}

// Bounds of the work on a file that is not compressed: what may be allocated for
// each of its bytes (an element of 8 bytes becomes an Element, its growing list and
// a copy), and how often all of it may be read.
const (
	mostPerByte = 300
	mostReads   = 3
)

// FuzzHeader: whatever the bytes, scanning ends without panic, an error is one of
// the known kinds, memory and reading are in proportion to the file, and every
// number that is made of a value is finite.
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
		var err error
		n := allocation.Of(func() { file, err = scan(data) })
		most := allocation.Linear(len(data), mostPerByte)
		if deflatedSyntaxes[file.TransferSyntaxUID] {
			most = mostAllocated
		}
		if n > most {
			t.Fatalf("%d bytes allocated for %d bytes of file", n, len(data))
		}
		if most := mostReads*int64(len(data)) + laterRead; file.BytesRead > most {
			t.Fatalf("%d bytes read of %d", file.BytesRead, len(data))
		}
		knownKind(t, err)
		decodeAll(t, &file.Data)
	})
}

// knownKind wants an error that says what is wrong with the file: damage of a
// compressed stream is the one that is neither a fault of form nor a limit.
func knownKind(t *testing.T, err error) {
	var format *FormatError
	var limit *LimitError
	if err != nil && !errors.Is(err, ErrNotDICOM) && !errors.As(err, &format) && !errors.As(err, &limit) &&
		!strings.Contains(err.Error(), "of a compressed stream") {
		t.Errorf("an error of no known kind: %v", err)
	}
}

// decodeAll asks for every element in every way and wants text that is UTF-8 and
// numbers that are finite.
func decodeAll(t *testing.T, d *Dataset) {
	for i := range d.Elements {
		tag := d.Elements[i].Tag
		d.Ints(tag)
		d.Int(tag)
		d.Tags(tag)
		for _, s := range append(d.Strings(tag), d.Text(tag)) {
			if !utf8.ValidString(s) {
				t.Errorf("%s: text that is not UTF-8", tag)
			}
		}
		for _, v := range d.Floats(tag) {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Errorf("%s: a number that is not finite", tag)
			}
		}
		for j := range d.Elements[i].Items {
			decodeAll(t, &d.Elements[i].Items[j])
		}
	}
}
