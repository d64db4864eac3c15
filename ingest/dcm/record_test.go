package dcm

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"leadline/ingest/internal/allocation"
)

// wantSame compares two readings of one file, the bytes read apart.
func wantSame(t *testing.T, got, want *File) {
	t.Helper()
	if got.TransferSyntaxUID != want.TransferSyntaxUID || got.Guessed != want.Guessed || got.Pixels != want.Pixels || got.BareItem != want.BareItem {
		t.Errorf("got %q %v %v %v, want %q %v %v %v", got.TransferSyntaxUID, got.Guessed, got.Pixels, got.BareItem,
			want.TransferSyntaxUID, want.Guessed, want.Pixels, want.BareItem)
	}
	if !slices.Equal(got.Data.Problems(), want.Data.Problems()) {
		t.Errorf("problems %v, want %v", got.Data.Problems(), want.Data.Problems())
	}
	wantSameDataset(t, &got.Meta, &want.Meta)
	wantSameDataset(t, &got.Data, &want.Data)
}

func wantSameDataset(t *testing.T, got, want *Dataset) {
	t.Helper()
	if got.big != want.big || (got.charset == nil) != (want.charset == nil) || len(got.Elements) != len(want.Elements) {
		t.Fatalf("big %v, character set %v, %d elements; want %v, %v, %d", got.big, got.charset, len(got.Elements), want.big, want.charset, len(want.Elements))
	}
	if len(want.Elements) > 0 && got.ascending != want.ascending {
		t.Errorf("tags ascend: %v, want %v", got.ascending, want.ascending)
	}
	if got.charset != nil && !slices.Equal(got.charset.Declared, want.charset.Declared) {
		t.Errorf("character set %q, want %q", got.charset.Declared, want.charset.Declared)
	}
	for i := range want.Elements {
		a, b := &got.Elements[i], &want.Elements[i]
		if a.Tag != b.Tag || a.VR != b.VR || a.Offset != b.Offset || !bytes.Equal(a.Value, b.Value) || len(a.Items) != len(b.Items) {
			t.Fatalf("element %s %s at %d, %d bytes, %d items; want %s %s at %d, %d, %d", a.Tag, a.VR, a.Offset, len(a.Value), len(a.Items),
				b.Tag, b.VR, b.Offset, len(b.Value), len(b.Items))
		}
		for k := range b.Items {
			wantSameDataset(t, &a.Items[k], &b.Items[k])
		}
	}
}

func wantSameOutcome(t *testing.T, got, want error) {
	t.Helper()
	if (got == nil) != (want == nil) {
		t.Fatalf("outcome %v, want %v", got, want)
	}
	if want == nil {
		return
	}
	gotKind, _ := kindOfOutcome(got)
	wantKind, _ := kindOfOutcome(want)
	if got.Error() != want.Error() || gotKind != wantKind {
		t.Errorf("outcome %v (kind %d), want %v (kind %d)", got, gotKind, want, wantKind)
	}
	var a, b *FormatError
	if errors.As(want, &b) && (!errors.As(got, &a) || *a != *b) {
		t.Errorf("outcome wraps %v, want %v", a, b)
	}
	var c, d *LimitError
	if errors.As(want, &d) && (!errors.As(got, &c) || *c != *d) {
		t.Errorf("outcome wraps %v, want %v", c, d)
	}
}

// roundTrip scans data, and wants the same from its record; false where none is to
// be kept.
func roundTrip(t *testing.T, r *RecordReader, data []byte) bool {
	t.Helper()
	f, outcome := scan(data)
	record, ok := AppendRecord([]byte("before"), f, outcome)
	if !ok {
		if string(record) != "before" {
			t.Error("something was written of a record that is not to be kept")
		}
		return false
	}
	record = bytes.TrimPrefix(record, []byte("before"))
	got, gotOutcome, err := r.Read(record)
	if err != nil {
		t.Fatalf("reading the record: %v", err)
	}
	wantSame(t, got, f)
	wantSameOutcome(t, gotOutcome, outcome)
	again, _ := AppendRecord(nil, got, gotOutcome)
	if !bytes.Equal(again, record) {
		t.Error("the record of what was read from a record is another")
	}
	decodeAll(t, &f.Data)
	decodeAll(t, &got.Data)
	if !slices.Equal(got.Data.Problems(), f.Data.Problems()) {
		t.Errorf("problems after decoding %v, want %v", got.Data.Problems(), f.Data.Problems())
	}
	return true
}

// TestRecord wants of every demo and hostile file, and of what is built here, the
// same from its record as from the scan.
func TestRecord(t *testing.T) {
	files := map[string][]byte{
		"big endian":  withMeta("1.2.840.10008.1.2.2", body(syntax{big: true})),
		"bare item":   bareItem(),
		"charsets":    manyCharsets(),
		"cut":         body(syntax{})[:40],
		"UN in big":   unknownInBig(),
		"not a value": []byte("just a text"),
	}
	err := filepath.WalkDir("../../testdata", func(path string, d fs.DirEntry, err error) error {
		if err == nil && d.Type().IsRegular() {
			files[path], err = os.ReadFile(path)
		}
		return err
	})
	if err != nil || len(files) < 100 {
		t.Fatalf("%d files, %v", len(files), err)
	}
	var reader RecordReader
	kept := 0
	for name, data := range files {
		t.Run(filepath.Base(name), func(t *testing.T) {
			if roundTrip(t, &reader, data) {
				kept++
			}
		})
	}
	if kept < len(files)*9/10 {
		t.Errorf("only %d of %d files have a record", kept, len(files))
	}
}

func bareItem() []byte {
	e := &enc{}
	e.text(SOPClassUID, "UI", "1.2.3")
	e.item(undefinedLength)
	e.us(Rows, 3)
	e.endItem()
	return e.Bytes()
}

// manyCharsets declares sets in the file and in items, one of them twice, and one
// item before any; a value in the last breaks its set.
func manyCharsets() []byte {
	e := &enc{}
	e.open(ProcedureCodeSequence)
	e.item(undefinedLength)
	e.text(CodeMeaning, "LO", "plain")
	e.endItem()
	for _, set := range []string{"ISO_IR 100", `\ISO 2022 IR 87`, "ISO_IR 100", "?"} {
		e.item(undefinedLength)
		e.text(SpecificCharacterSet, "CS", set)
		e.text(CodeMeaning, "LO", "caf\xe9")
		e.endItem()
	}
	e.endSequence()
	e.text(SpecificCharacterSet, "CS", "ISO_IR 192")
	e.text(PatientName, "PN", "\xff\xfe")
	return e.Bytes()
}

// unknownInBig has a sequence of VR UN in a big endian file: its items are little
// endian (PS3.5 6.2.2).
func unknownInBig() []byte {
	inner := &enc{syntax: syntax{implicit: true}}
	inner.item(undefinedLength)
	inner.us(RegionSpatialFormat, 2)
	inner.endItem()
	inner.endSequence()
	e := &enc{syntax: syntax{big: true}}
	e.text(SOPClassUID, "UI", "1.2.3")
	e.head(SequenceOfUltrasoundRegions, "UN", undefinedLength)
	e.Write(inner.Bytes())
	return withMeta(bigEndianSyntax, e.Bytes())
}

// TestRecordNotOfReading wants no record of a scan that the disk ended.
func TestRecordNotOfReading(t *testing.T) {
	f, err := Scan(failing{}, 100)
	if record, ok := AppendRecord(nil, f, err); ok || len(record) > 0 {
		t.Errorf("a record of %d bytes for %v", len(record), err)
	}
}

// TestRecordDamaged changes a record in every place, and cuts it at every byte: what
// is read then is refused, or is itself what a scan may have returned.
func TestRecordDamaged(t *testing.T) {
	for _, data := range [][]byte{body(syntax{}), manyCharsets(), body(syntax{})[:40]} {
		f, err := scan(data)
		record, ok := AppendRecord(nil, f, err)
		if !ok {
			t.Fatal("no record")
		}
		var reader RecordReader
		for i := range record {
			if _, _, err := reader.Read(record[:i]); !errors.Is(err, ErrRecord) {
				t.Errorf("cut at %d of %d: %v", i, len(record), err)
			}
			for bit := range 8 {
				changed := bytes.Clone(record)
				changed[i] ^= 1 << bit
				wantCanonical(t, &reader, changed)
			}
		}
		if _, _, err := reader.Read(append(record, 0)); !errors.Is(err, ErrRecord) {
			t.Errorf("a byte behind the record: %v", err)
		}
	}
}

// wantCanonical wants bytes that read as a record to be the one record of it.
func wantCanonical(t *testing.T, r *RecordReader, record []byte) {
	t.Helper()
	f, outcome, err := r.Read(record)
	if err != nil {
		if f != nil || outcome != nil || !errors.Is(err, ErrRecord) {
			t.Errorf("refused with %v, and returned %v, %v", err, f, outcome)
		}
		return
	}
	if again, ok := AppendRecord(nil, f, outcome); !ok || !bytes.Equal(again, record) {
		t.Errorf("%d bytes read as a record whose own is of %d bytes", len(record), len(again))
	}
	decodeAll(t, &f.Data)
}

// FuzzRecord takes bytes for a file, and wants the same from its record; and for a
// record, which is refused or is the one record of what is read, in memory in
// proportion.
func FuzzRecord(f *testing.F) {
	for _, name := range hostileFiles(f) {
		if data, err := os.ReadFile(name); err == nil && len(data) < 4<<10 {
			f.Add(data)
		}
	}
	for _, data := range [][]byte{body(syntax{}), manyCharsets(), bareItem(), unknownInBig(), []byte(strings.Repeat("text ", 9))} {
		f.Add(data)
		if record, ok := AppendRecord(nil, first(scan(data)), nil); ok {
			f.Add(record)
		}
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		var reader RecordReader
		roundTrip(t, &reader, data)
		var fresh RecordReader
		if n := allocation.Of(func() { _, _, _ = fresh.Read(data) }); n > allocation.Linear(len(data), 100) {
			t.Fatalf("%d bytes allocated for a record of %d bytes", n, len(data))
		}
		wantCanonical(t, &reader, data)
	})
}

func first(f *File, _ error) *File { return f }

// BenchmarkRecord compares reading a record with scanning the file it was made of.
func BenchmarkRecord(b *testing.B) {
	names, err := filepath.Glob("../../testdata/demo/exports/delivery room/*/*")
	if err != nil || len(names) == 0 {
		b.Skipf("no demo archive: %v", err)
	}
	var files, records [][]byte
	for _, name := range names {
		data, err := os.ReadFile(name)
		if err != nil {
			continue
		}
		f, err := scan(data)
		if record, ok := AppendRecord(nil, f, err); ok {
			files, records = append(files, data), append(records, record)
		}
	}
	b.Run("scan", func(b *testing.B) {
		var s Scanner
		for i := 0; b.Loop(); i++ {
			data := files[i%len(files)]
			_, _ = s.Scan(bytes.NewReader(data), int64(len(data)))
		}
	})
	b.Run("append", func(b *testing.B) {
		var read []*File
		for _, data := range files {
			read = append(read, first(scan(data)))
		}
		var buffer []byte
		size := 0
		b.ResetTimer()
		for i := 0; b.Loop(); i++ {
			buffer, _ = AppendRecord(buffer[:0], read[i%len(read)], nil)
			size += len(buffer)
		}
		b.ReportMetric(float64(size)/float64(b.N), "B/record")
	})
	b.Run("read", func(b *testing.B) {
		var r RecordReader
		for i := 0; b.Loop(); i++ {
			if _, _, err := r.Read(records[i%len(records)]); err != nil {
				b.Fatal(err)
			}
		}
	})
}
