package dcm

import (
	"bytes"
	"errors"
	"io"
	"strings"
	"testing"
)

// TestScanEncodings reads one header in every encoding and expects the same values.
func TestScanEncodings(t *testing.T) {
	explicit, implicit, big := syntax{}, syntax{implicit: true}, syntax{big: true}
	files := map[string][]byte{
		"explicit":                     withMeta("1.2.840.10008.1.2.1", body(explicit)),
		"implicit":                     withMeta("1.2.840.10008.1.2", body(implicit)),
		"big endian":                   withMeta("1.2.840.10008.1.2.2", body(big)),
		"deflated":                     withMeta("1.2.840.10008.1.2.1.99", deflated(t, body(explicit))),
		"no preamble, explicit":        body(explicit),
		"no preamble, implicit":        body(implicit),
		"no preamble, big endian":      body(big),
		"meta group without preamble":  withMeta("1.2.840.10008.1.2.1", body(explicit))[preamble+4:],
		"preamble without mark":        append(make([]byte, preamble), body(explicit)...),
		"syntax missing":               withMeta("", body(implicit)),
		"syntax unknown":               withMeta("1.2.3.4", body(explicit)),
		"declared implicit, explicit":  withMeta("1.2.840.10008.1.2", body(explicit)),
		"declared explicit, implicit":  withMeta("1.2.840.10008.1.2.1", body(implicit)),
		"zero padding behind the data": append(withMeta("1.2.840.10008.1.2.1", body(explicit)), make([]byte, 40)...),
	}
	for name, data := range files {
		t.Run(name, func(t *testing.T) {
			f, err := scan(data)
			if err != nil {
				t.Fatal(err)
			}
			wantBody(t, f)
		})
	}
}

func wantBody(t *testing.T, f *File) {
	t.Helper()
	if got := f.Data.String(SOPInstanceUID); got != "2.25.1" {
		t.Errorf("SOP Instance UID %q", got)
	}
	if got := f.Data.Float(PatientWeight); got != Some(1.25) {
		t.Errorf("weight %v", got)
	}
	regions := f.Data.Items(SequenceOfUltrasoundRegions)
	if len(regions) != 1 {
		t.Fatalf("%d regions", len(regions))
	}
	r := &regions[0]
	if r.Int(RegionLocationMaxX1) != Some(int64(319)) || r.Int(ReferencePixelX0) != Some(int64(-7)) || r.Float(PhysicalDeltaX) != Some(0.025) {
		t.Errorf("region %v %v %v", r.Int(RegionLocationMaxX1), r.Int(ReferencePixelX0), r.Float(PhysicalDeltaX))
	}
	if f.Data.Int(Rows) != Some(int64(240)) || f.Pixels != PixelsWhole {
		t.Errorf("rows %v, pixels %v", f.Data.Int(Rows), f.Pixels)
	}
}

// TestScanMarkInValue: in a file without preamble the letters of the mark may be
// part of a value, as in a real file.
func TestScanMarkInValue(t *testing.T) {
	e := &enc{}
	e.text(SOPClassUID, "UI", "1.2.3")
	e.text(0x00081010, "SH", strings.Repeat("x", preamble-e.Len()-8)+"DICM")
	e.us(Rows, 3)
	if string(e.Bytes()[preamble:preamble+4]) != "DICM" {
		t.Fatal("the mark is not where it should be")
	}
	f, err := scan(e.Bytes())
	if err != nil || f.Data.Int(Rows) != Some(int64(3)) {
		t.Errorf("rows %v, %v", f.Data.Int(Rows), err)
	}
}

// TestScanDefinedLengths mixes defined and undefined lengths (PS3.5 7.5.2).
func TestScanDefinedLengths(t *testing.T) {
	inner := &enc{}
	inner.us(RegionSpatialFormat, 3)
	e := &enc{}
	e.text(SOPClassUID, "UI", "1.2.3")
	e.head(SequenceOfUltrasoundRegions, "SQ", uint32(2*(8+inner.Len())+8))
	e.item(uint32(inner.Len()))
	e.Write(inner.Bytes())
	e.item(undefinedLength)
	e.Write(inner.Bytes())
	e.endItem()
	e.us(Rows, 5)
	f, err := scan(e.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	if n := len(f.Data.Items(SequenceOfUltrasoundRegions)); n != 2 || f.Data.Int(Rows) != Some(int64(5)) {
		t.Errorf("%d items, rows %v", n, f.Data.Int(Rows))
	}
}

// TestScanUnknownVR reads a sequence written as UN, whose content is implicit
// little endian in any file (PS3.5 6.2.2), and steps over a nested unwanted one.
func TestScanUnknownVR(t *testing.T) {
	inner := &enc{syntax: syntax{implicit: true}}
	inner.item(undefinedLength)
	inner.us(RegionSpatialFormat, 2)
	inner.endItem()
	inner.endSequence()
	e := &enc{}
	e.text(SOPClassUID, "UI", "1.2.3")
	e.head(0x00091010, "UN", undefinedLength)
	e.Write(inner.Bytes())
	e.head(SequenceOfUltrasoundRegions, "UN", undefinedLength)
	e.Write(inner.Bytes())
	e.us(Rows, 9)
	f, err := scan(e.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	regions := f.Data.Items(SequenceOfUltrasoundRegions)
	if len(regions) != 1 || regions[0].Int(RegionSpatialFormat) != Some(int64(2)) || f.Data.Int(Rows) != Some(int64(9)) {
		t.Errorf("regions %v rows %v", regions, f.Data.Int(Rows))
	}
}

// TestScanBehindLargeValue finds an element behind a private block larger than
// every read, without reading the block.
func TestScanBehindLargeValue(t *testing.T) {
	e := &enc{}
	e.text(SOPClassUID, "UI", "1.2.3")
	e.raw(0x00091010, "OB", strings.Repeat("x", 3<<20))
	e.us(Rows, 7)
	e.raw(0x7FE00010, "OW", strings.Repeat("p", 5<<20))
	f, err := scan(e.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	if f.Data.Int(Rows) != Some(int64(7)) {
		t.Errorf("rows %v", f.Data.Int(Rows))
	}
	if f.BytesRead > 64<<10 {
		t.Errorf("%d bytes read of a file of 8 MB", f.BytesRead)
	}
}

// TestScanCutAnywhere cuts a file at every byte: each cut is an error that says
// where, or a header that was whole before the cut.
func TestScanCutAnywhere(t *testing.T) {
	data := withMeta("1.2.840.10008.1.2.1", body(syntax{}))
	for n := range data {
		f, err := scan(data[:n])
		var format *FormatError
		switch {
		case err == nil && f.Pixels == PixelsWhole:
			t.Errorf("cut at %d of %d: no error and pixels whole", n, len(data))
		case err != nil && !errors.As(err, &format) && !errors.Is(err, ErrNotDICOM):
			t.Errorf("cut at %d: %v", n, err)
		}
	}
}

// TestScanDeflatedCut tells a cut stream from one that ends.
func TestScanDeflatedCut(t *testing.T) {
	e := &enc{}
	e.text(SOPClassUID, "UI", "1.2.3")
	for i := range 400 {
		e.text(0x00091010+Tag(i), "LO", strings.Repeat(string(rune('a'+i%26)), i%60))
	}
	data := withMeta("1.2.840.10008.1.2.1.99", deflated(t, e.Bytes()))
	if _, err := scan(data); err != nil {
		t.Fatalf("whole: %v", err)
	}
	if _, err := scan(data[:len(data)-9]); err == nil {
		t.Error("cut: no error")
	}
}

func TestScanPixelState(t *testing.T) {
	native := func(length uint32, bytes string) []byte {
		e := &enc{}
		e.text(SOPClassUID, "UI", "1.2.3")
		e.head(0x7FE00010, "OW", length)
		e.WriteString(bytes)
		return e.Bytes()
	}
	fragments := func(whole bool, tail string) []byte {
		e := &enc{}
		e.text(SOPClassUID, "UI", "1.2.3")
		e.head(0x7FE00010, "OB", undefinedLength)
		e.item(0)
		e.item(4)
		e.WriteString("abcd")
		if whole {
			e.endSequence()
		}
		e.WriteString(tail)
		return e.Bytes()
	}
	for name, c := range map[string]struct {
		data []byte
		want PixelState
	}{
		"native whole":            {native(4, "abcd"), PixelsWhole},
		"native cut":              {native(8, "abcd"), PixelsCut},
		"fragments whole":         {fragments(true, ""), PixelsWhole},
		"fragments, bytes behind": {fragments(true, "trailing garbage"), PixelsWhole},
		"fragments cut":           {fragments(false, ""), PixelsCut},
		"fragments cut in a head": {fragments(false, "\xFE\xFF"), PixelsCut},
	} {
		f, err := scan(c.data)
		if err != nil || f.Pixels != c.want {
			t.Errorf("%s: %v, %v", name, f.Pixels, err)
		}
	}
}

// failing is a file whose disk fails.
type failing struct{}

func (failing) ReadAt([]byte, int64) (int, error) { return 0, errors.New("disk fault") }

func TestScanReadErrors(t *testing.T) {
	if _, err := Scan(failing{}, 100); err == nil || !strings.Contains(err.Error(), "disk fault") {
		t.Errorf("failing disk: %v", err)
	}
	shrunk := io.NewSectionReader(bytes.NewReader(body(syntax{})), 0, 20)
	if _, err := Scan(shrunk, 500); !errors.Is(err, io.ErrUnexpectedEOF) {
		t.Errorf("a file that became shorter: %v", err)
	}
}
