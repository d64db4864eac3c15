package dcm

import (
	"bytes"
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"
)

// What the reference (files and encodings) says a header reader must cope with, and
// the test that holds it:
//
//	9.1 every transfer syntax, encapsulated ones too    TestTransferSyntaxes
//	9.1 implicit, explicit, big endian, deflated        TestScanEncodings
//	9.1 unknown and missing syntaxes                    TestScanEncodings
//	9.1 pixel data of an icon are not the picture's     TestLargeBeforeWanted
//	9.1 elements behind the pixel data, padding         TestTrailingPadding
//	9.2 wrong, missing, empty group length              TestMetaGroup
//	9.2 no preamble, no meta group                      TestScanEncodings, TestMetaGroup
//	9.2 cut files                                       TestScanCutAnywhere, TestScanDeflatedCut
//	9.3 short and long forms of lengths, future VRs     TestLengthForms
//	9.3 defined and undefined lengths, mixed            TestScanDefinedLengths, TestNesting
//	9.3 UN, sequences and values, also in big endian    TestScanUnknownVR, TestUnknownVRValues
//	9.3 UN whose content is explicit against the rule   TestUnknownVRExplicit
//	9.3 VRs that contradict the dictionary              TestContradictingVR
//	9.3 odd lengths                                     TestOddLengths
//	9.3 AT, tags that do not ascend                     TestTagValues, TestOrder
//	9.3 items without their sequence                    TestBareItem
//	9.4 private elements, illegal groups                TestPrivate
//	9.3, 9.5 character sets of items                    TestCharsetOfItems
//	9.5 character sets                                  TestCharsets, TestSingleByteSets, TestCharsetsByPython

// encapsulated is body with encapsulated pixel data (PS3.5 A.4).
func encapsulated() []byte {
	native := body(syntax{})
	e := &enc{}
	e.Write(native[:bytes.LastIndex(native, []byte("\xE0\x7F\x10\x00"))])
	e.head(0x7FE00010, "OB", undefinedLength)
	e.item(0)
	e.item(4)
	e.WriteString("abcd")
	e.endSequence()
	return e.Bytes()
}

// TestTransferSyntaxes reads the header of every syntax of PS3.6 Table A-1, and of the
// private implicit one, as declared and not by guessing.
func TestTransferSyntaxes(t *testing.T) {
	const root = "1.2.840.10008.1.2"
	explicit, implicit, big := body(syntax{}), body(syntax{implicit: true}), body(syntax{big: true})
	files := map[string][]byte{
		root: implicit, root + ".1": explicit, root + ".2": big,
		root + ".1.99":       deflated(t, explicit),
		root + ".4.95":       deflated(t, explicit),
		root + ".4.205":      deflated(t, explicit),
		"1.2.840.113619.5.2": implicit,
	}
	for _, uid := range strings.Fields(`.1.98 .5 .8.1 .4.50 .4.51 .4.57 .4.70 .4.80 .4.81 .4.90 .4.91 .4.92 .4.93 .4.94
		.4.100 .4.100.1 .4.101 .4.102 .4.103 .4.104 .4.105 .4.106 .4.107 .4.108 .4.110 .4.111 .4.112
		.4.201 .4.202 .4.203 .4.204 .7.1 .7.2 .7.3`) {
		files[root+uid] = encapsulated()
	}
	for uid, data := range files {
		t.Run(uid, func(t *testing.T) {
			f, err := scan(withMeta(uid+"\x00", data))
			if err != nil {
				t.Fatal(err)
			}
			wantBody(t, f)
			if f.TransferSyntaxUID != uid || f.Guessed || !KnownSyntax(uid) {
				t.Errorf("syntax %q, guessed %v, known %v", f.TransferSyntaxUID, f.Guessed, KnownSyntax(uid))
			}
		})
	}
}

// TestMetaGroup reads the group by its tags whatever its length says.
func TestMetaGroup(t *testing.T) {
	file := func(preambleBytes string, write func(*enc)) []byte {
		e := &enc{}
		e.WriteString(preambleBytes)
		write(e)
		e.Write(body(syntax{}))
		return e.Bytes()
	}
	length := func(n uint32) func(*enc) {
		return func(e *enc) {
			e.ul(0x00020000, n)
			e.raw(0x00020001, "OB", "\x00\x01")
			e.text(TransferSyntaxUID, "UI", "1.2.840.10008.1.2.1\x00")
		}
	}
	mark := strings.Repeat("\x00", preamble) + "DICM"
	for name, data := range map[string][]byte{
		"right length":          file(mark, length(42)),
		"too short":             file(mark, length(4)),
		"zero":                  file(mark, length(0)),
		"too long":              file(mark, length(60)),
		"beyond the file":       file(mark, length(0xFFFFFFFF)),
		"no length":             file(mark, func(e *enc) { e.text(TransferSyntaxUID, "UI", "1.2.840.10008.1.2.1\x00") }),
		"length without value":  file(mark, func(e *enc) { e.raw(0x00020000, "UL", ""); e.text(TransferSyntaxUID, "UI", "1.2.840.10008.1.2.1\x00") }),
		"no group":              file(mark, func(*enc) {}),
		"no preamble":           file("", length(42)),
		"preamble of a picture": file("II*\x00"+strings.Repeat("x", preamble-4)+"DICM", length(42)),
		"syntax padded by a blank": file(mark, func(e *enc) {
			e.text(TransferSyntaxUID, "UI", "1.2.840.10008.1.2.1 ")
		}),
	} {
		t.Run(name, func(t *testing.T) {
			f, err := scan(data)
			if err != nil {
				t.Fatal(err)
			}
			wantBody(t, f)
		})
	}
}

// TestLengthForms writes an unwanted element of every VR, with a length of the form
// that PS3.5 7.1.2 gives it, before a wanted one; VRs to come have the long form.
func TestLengthForms(t *testing.T) {
	for form, list := range map[bool]string{
		false: "AE AS AT CS DA DS DT FD FL IS LO LT PN SH SL SS ST TM UI UL US",
		true:  "OB OD OF OL OV OW SV UC UN UR UT UV XX",
	} {
		for _, vr := range strings.Fields(list) {
			e := &enc{}
			e.text(SOPClassUID, "UI", "1.2.3")
			e.u16(0x0009)
			e.u16(0x1010)
			e.WriteString(vr)
			if form {
				e.u16(0)
				e.u32(8)
			} else {
				e.u16(8)
			}
			e.WriteString("12345678")
			e.us(Rows, 7)
			f, err := scan(e.Bytes())
			if err != nil || f.Data.Int(Rows) != Some(int64(7)) {
				t.Errorf("behind VR %s: rows %v, %v", vr, f.Data.Int(Rows), err)
			}
		}
	}
}

// TestNesting mixes defined and undefined lengths of sequences and items at every
// level (PS3.5 7.5.2), in every encoding.
func TestNesting(t *testing.T) {
	for _, s := range []syntax{{}, {implicit: true}, {big: true}} {
		for mask := range 16 {
			inner := nest(s, ConceptNameCodeSequence, mask>>2, func(e *enc) { e.text(CodeValue, "SH", "11") })
			outer := nest(s, ContentSequence, mask, func(e *enc) { e.text(ValueType, "CS", "NUM"); e.Write(inner) })
			e := &enc{syntax: s}
			e.text(SOPClassUID, "UI", "1.2.3")
			e.Write(outer)
			e.text(CompletionFlag, "CS", "COMPLETE")
			f, err := scan(e.Bytes())
			if err != nil {
				t.Fatalf("%+v %d: %v", s, mask, err)
			}
			items := f.Data.Items(ContentSequence)
			if len(items) != 2 || items[1].Code(ConceptNameCodeSequence).Value != "11" || items[1].String(ValueType) != "NUM" || f.Data.String(CompletionFlag) != "COMPLETE" {
				t.Errorf("%+v %d: %d items", s, mask, len(items))
			}
		}
	}
}

// nest writes a sequence of two equal items; bit 0 of open leaves the length of the
// sequence undefined, bit 1 those of its items.
func nest(s syntax, tag Tag, open int, write func(*enc)) []byte {
	content := &enc{syntax: s}
	write(content)
	items := &enc{syntax: s}
	for range 2 {
		if open&2 != 0 {
			items.item(undefinedLength)
			items.Write(content.Bytes())
			items.endItem()
		} else {
			items.item(uint32(content.Len()))
			items.Write(content.Bytes())
		}
	}
	e := &enc{syntax: s}
	if open&1 != 0 {
		e.open(tag)
		e.Write(items.Bytes())
		e.endSequence()
	} else {
		e.raw(tag, "SQ", items.String())
	}
	return e.Bytes()
}

// TestUnknownVRValues reads values of VR UN as the dictionary names them, little
// endian in every file (PS3.5 6.2.2), also where they are longer than the short form
// of their own VR allows.
func TestUnknownVRValues(t *testing.T) {
	vector := strings.Repeat(`33.333\`, 10_000) + "33.333"
	items := &enc{syntax: syntax{implicit: true}}
	items.item(undefinedLength)
	items.ul(RegionLocationMaxX1, 319)
	items.fd(PhysicalDeltaX, 0.025)
	items.endItem()
	for _, s := range []syntax{{}, {big: true}} {
		little := &enc{}
		e := &enc{syntax: s}
		e.text(SOPClassUID, "UI", "1.2.3")
		e.raw(SpecificCharacterSet, "UN", "ISO_IR 100")
		e.raw(PatientName, "UN", "M\xfcller")
		e.raw(FrameTimeVector, "UN", vector)
		e.raw(SequenceOfUltrasoundRegions, "UN", items.String())
		e.raw(FrameIncrementPointer, "UN", "\x18\x00\x65\x10")
		e.raw(Rows, "UN", "\xF0\x00")
		e.us(Columns, 320)
		little.fd(FloatingPointValue, 1.5)
		e.raw(FloatingPointValue, "UN", little.String()[8:])
		f, err := scan(e.Bytes())
		if err != nil {
			t.Fatal(err)
		}
		d := &f.Data
		regions := d.Items(SequenceOfUltrasoundRegions)
		if len(regions) != 1 || regions[0].Int(RegionLocationMaxX1) != Some(int64(319)) || regions[0].Float(PhysicalDeltaX) != Some(0.025) {
			t.Fatalf("%+v: %d regions", s, len(regions))
		}
		got := []any{d.String(PatientName), len(d.Floats(FrameTimeVector)), d.Int(Rows).Value, d.Int(Columns).Value, d.Float(FloatingPointValue).Value, d.Tags(FrameIncrementPointer)}
		want := []any{"Müller", 10_001, int64(240), int64(320), 1.5, []Tag{FrameTimeVector}}
		if !reflect.DeepEqual(got, want) {
			t.Errorf("%+v: %v, want %v", s, got, want)
		}
	}
}

// TestUnknownVRExplicit reads sequences of VR UN whose content is explicit all the
// same, wanted and unwanted, as pydicom does.
func TestUnknownVRExplicit(t *testing.T) {
	for _, s := range []syntax{{}, {big: true}} {
		for open := range 4 {
			unknown := func(tag Tag, write func(*enc)) []byte {
				b := nest(s, tag, open, write)
				return bytes.Replace(b, []byte("SQ"), []byte("UN"), 1)
			}
			e := &enc{syntax: s}
			e.text(SOPClassUID, "UI", "1.2.3")
			e.Write(unknown(0x00091002, func(e *enc) { e.text(0x00091001, "LO", "abcd") }))
			e.Write(unknown(SequenceOfUltrasoundRegions, func(e *enc) { e.fd(PhysicalDeltaX, 0.025) }))
			e.us(Rows, 7)
			e.raw(0x7FE00010, "OW", strings.Repeat("p", 1<<20))
			f, err := scan(e.Bytes())
			if err != nil {
				t.Errorf("%+v %d: %v", s, open, err)
				continue
			}
			regions := f.Data.Items(SequenceOfUltrasoundRegions)
			if len(regions) != 2 || regions[1].Float(PhysicalDeltaX) != Some(0.025) || f.Data.Int(Rows) != Some(int64(7)) {
				t.Errorf("%+v %d: %d regions, rows %v", s, open, len(regions), f.Data.Int(Rows))
			}
		}
	}
}

// TestContradictingVR reads a value by the VR that the file gives it; what cannot be
// read so is noted, and reading goes on.
func TestContradictingVR(t *testing.T) {
	e := &enc{}
	e.text(SOPClassUID, "UI", "1.2.3")
	e.text(StudyDate, "LO", "20260901")
	e.raw(PatientName, "OB", "Quast^Mira")
	e.text(PatientID, "SQ", "")
	e.fd(PatientWeight, 1.25)
	e.us(NumberOfFrames, 12)
	e.ul(Rows, 240)
	e.text(Columns, "IS", "320")
	e.text(SequenceOfUltrasoundRegions, "LO", "none")
	e.raw(ContentSequence, "OB", "\x01\x02")
	e.us(BitsAllocated, 8)
	f, err := scan(e.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	d := &f.Data
	got := []any{d.String(StudyDate), d.String(PatientName), d.String(PatientID), d.Float(PatientWeight).Value, d.Int(NumberOfFrames).Value, d.Int(Rows).Value, d.Int(Columns).Value, d.Int(BitsAllocated).Value}
	want := []any{"20260901", "Quast^Mira", "", 1.25, int64(12), int64(240), int64(320), int64(8)}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	var noted []Tag
	for _, p := range d.Problems() {
		noted = append(noted, p.Tag)
	}
	if !slices.Equal(noted, []Tag{PatientID, SequenceOfUltrasoundRegions, ContentSequence}) {
		t.Errorf("noted %v", noted)
	}
}

// TestOddLengths obeys an odd length: the next element begins right behind the value.
func TestOddLengths(t *testing.T) {
	item := &enc{}
	item.raw(CodeValue, "SH", "T-D")
	sequence := &enc{}
	sequence.item(uint32(item.Len()))
	sequence.Write(item.Bytes())
	e := &enc{}
	e.text(SOPClassUID, "UI", "1.2.3")
	e.raw(0x00091010, "OB", "odd")
	e.raw(PatientID, "LO", "P17")
	e.raw(ConceptNameCodeSequence, "SQ", sequence.String())
	e.raw(Columns, "US", "\x01\x02\x03")
	e.us(Rows, 240)
	f, err := scan(e.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	if f.Data.String(PatientID) != "P17" || f.Data.Code(ConceptNameCodeSequence).Value != "T-D" || f.Data.Int(Rows) != Some(int64(240)) {
		t.Errorf("%q, %v, rows %v", f.Data.String(PatientID), f.Data.Code(ConceptNameCodeSequence), f.Data.Int(Rows))
	}
	if f.Data.Int(Columns).Set || len(f.Data.Problems()) != 1 {
		t.Errorf("three bytes read as %v, noted %v", f.Data.Int(Columns), f.Data.Problems())
	}
}

// TestTrailingPadding steps over Data Set Trailing Padding (PS3.10 7.2) and a tail of
// zeros, with and without pixel data before them.
func TestTrailingPadding(t *testing.T) {
	whole := body(syntax{})
	header := whole[:bytes.LastIndex(whole, []byte("\xE0\x7F\x10\x00"))]
	element := &enc{}
	element.raw(0xFFFCFFFC, "OB", strings.Repeat("\x00", 1000))
	zeros := make([]byte, 777)
	for name, c := range map[string]struct {
		data []byte
		want PixelState
	}{
		"padding behind the header":        {slices.Concat(header, element.Bytes()), PixelsAbsent},
		"padding and zeros":                {slices.Concat(header, element.Bytes(), zeros), PixelsAbsent},
		"zeros behind the header":          {slices.Concat(header, zeros), PixelsAbsent},
		"padding behind pixels":            {slices.Concat(whole, element.Bytes()), PixelsWhole},
		"padding behind fragments":         {slices.Concat(encapsulated(), element.Bytes()), PixelsWhole},
		"a signature behind the pixels":    {slices.Concat(whole, nest(syntax{}, 0xFFFAFFFA, 3, func(*enc) {})), PixelsWhole},
		"deflated, a pad byte":             {withMeta("1.2.840.10008.1.2.1.99", append(deflated(t, header), 0)), PixelsAbsent},
		"deflated, padding in the dataset": {withMeta("1.2.840.10008.1.2.1.99", deflated(t, slices.Concat(header, element.Bytes()))), PixelsAbsent},
	} {
		f, err := scan(c.data)
		if err != nil || f.Pixels != c.want || f.Data.Int(Rows) != Some(int64(240)) || len(f.Data.Items(SequenceOfUltrasoundRegions)) != 1 {
			t.Errorf("%s: pixels %v, rows %v, %v", name, f.Pixels, f.Data.Int(Rows), err)
		}
	}
}

// TestLargeBeforeWanted finds the regions behind a private block or an icon larger
// than the first read, and takes the icon's pixel data for no picture's.
func TestLargeBeforeWanted(t *testing.T) {
	const large = 150_000
	for _, s := range []syntax{{}, {implicit: true}, {big: true}} {
		private := func(e *enc) {
			e.text(0x00090010, "LO", "INVENTED 1.0")
			e.raw(0x00091001, "OB", strings.Repeat("\x55", large))
		}
		for name, before := range map[string]func(*enc){
			"private value": private,
			"private sequence": func(e *enc) {
				e.text(0x00090010, "LO", "INVENTED 1.0")
				e.Write(nest(s, 0x00091002, 3, func(e *enc) { e.raw(0x00091001, "OB", strings.Repeat("\x55", large)) }))
			},
			"icon, its length known":   func(e *enc) { e.Write(icon(s, 0, large)) },
			"icon, its length unknown": func(e *enc) { e.Write(icon(s, 3, large)) },
			"both":                     func(e *enc) { private(e); e.Write(icon(s, 1, large)) },
		} {
			e := &enc{syntax: s}
			e.text(SOPClassUID, "UI", "1.2.3")
			before(e)
			e.Write(nest(s, SequenceOfUltrasoundRegions, 2, func(e *enc) { e.fd(PhysicalDeltaX, 0.025) }))
			e.us(Rows, 7)
			f, err := scan(e.Bytes())
			if err != nil {
				t.Errorf("%+v, %s: %v", s, name, err)
				continue
			}
			regions := f.Data.Items(SequenceOfUltrasoundRegions)
			if len(regions) != 2 || regions[1].Float(PhysicalDeltaX) != Some(0.025) || f.Data.Int(Rows) != Some(int64(7)) || f.Pixels != PixelsAbsent {
				t.Errorf("%+v, %s: %d regions, rows %v, pixels %v", s, name, len(regions), f.Data.Int(Rows), f.Pixels)
			}
			if f.BytesRead > 96<<10 {
				t.Errorf("%+v, %s: %d bytes read of %d", s, name, f.BytesRead, e.Len())
			}
		}
	}
}

// icon writes Icon Image Sequence (0088,0200); open as nest.
func icon(s syntax, open, size int) []byte {
	return nest(s, 0x00880200, open, func(e *enc) {
		e.us(Rows, 64)
		e.us(Columns, 64)
		e.raw(0x7FE00010, "OW", strings.Repeat("\x77", size))
	})
}

// TestEncapsulatedIcon steps over an icon whose pixel data are fragments.
func TestEncapsulatedIcon(t *testing.T) {
	e := &enc{}
	e.text(SOPClassUID, "UI", "1.2.3")
	e.Write(nest(syntax{}, 0x00880200, 3, func(e *enc) {
		e.us(Rows, 64)
		e.head(0x7FE00010, "OB", undefinedLength)
		e.item(0)
		e.item(40_000)
		e.WriteString(strings.Repeat("\x77", 40_000))
		e.endSequence()
	}))
	e.us(Columns, 7)
	e.raw(0x7FE00010, "OW", "pixels")
	f, err := scan(e.Bytes())
	if err != nil || f.Data.Int(Columns) != Some(int64(7)) || f.Data.Has(Rows) || f.Pixels != PixelsWhole {
		t.Errorf("columns %v, rows there %v, pixels %v, %v", f.Data.Int(Columns), f.Data.Has(Rows), f.Pixels, err)
	}
}

// TestTagValues reads AT in the byte order of the file (PS3.5 6.2).
func TestTagValues(t *testing.T) {
	for _, s := range []syntax{{}, {implicit: true}, {big: true}} {
		e := &enc{syntax: s}
		e.text(SOPClassUID, "UI", "1.2.3")
		e.head(FrameIncrementPointer, "AT", 8)
		for _, tag := range []Tag{FrameTime, FrameTimeVector} {
			e.u16(tag.Group())
			e.u16(uint16(tag))
		}
		f, err := scan(e.Bytes())
		if got := f.Data.Tags(FrameIncrementPointer); err != nil || !slices.Equal(got, []Tag{FrameTime, FrameTimeVector}) {
			t.Errorf("%+v: %v, %v", s, got, err)
		}
	}
}

// TestOrder finds elements whatever their order, and of two equal ones the first.
func TestOrder(t *testing.T) {
	e := &enc{}
	e.text(SOPClassUID, "UI", "1.2.3")
	e.us(Rows, 240)
	e.text(StudyInstanceUID, "UI", "2.25.7")
	e.us(Rows, 99)
	e.text(PatientID, "LO", "P17")
	f, err := scan(e.Bytes())
	if err != nil || f.Data.Int(Rows) != Some(int64(240)) || f.Data.String(StudyInstanceUID) != "2.25.7" || f.Data.String(PatientID) != "P17" {
		t.Errorf("rows %v, study %q, patient %q, %v", f.Data.Int(Rows), f.Data.String(StudyInstanceUID), f.Data.String(PatientID), err)
	}
}

// TestBareItem steps into items whose sequence tag is lost, as in a real file: their
// elements stand in the data set itself, and the file says so.
func TestBareItem(t *testing.T) {
	for _, open := range []bool{false, true} {
		for _, s := range []syntax{{}, {implicit: true}, {big: true}} {
			content := &enc{syntax: s}
			content.us(RegionSpatialFormat, 1)
			content.fd(PhysicalDeltaX, 0.025)
			e := &enc{syntax: s}
			e.text(SOPClassUID, "UI", "1.2.3")
			if open {
				e.item(undefinedLength)
				e.Write(content.Bytes())
				e.endItem()
				e.endSequence()
			} else {
				e.item(uint32(content.Len()))
				e.Write(content.Bytes())
			}
			e.us(Rows, 7)
			f, err := scan(e.Bytes())
			if err != nil || !f.BareItem || f.Data.Float(PhysicalDeltaX) != Some(0.025) || f.Data.Int(Rows) != Some(int64(7)) {
				t.Errorf("%+v, open %v: bare %v, delta %v, rows %v, %v", s, open, f.BareItem, f.Data.Float(PhysicalDeltaX), f.Data.Int(Rows), err)
			}
		}
	}
}

// TestPrivate steps over private elements of every kind, and over the groups that
// PS3.5 7.8 forbids.
func TestPrivate(t *testing.T) {
	for _, s := range []syntax{{}, {implicit: true}, {big: true}} {
		e := &enc{syntax: s}
		e.text(SOPClassUID, "UI", "1.2.3")
		for _, group := range []Tag{0x0001, 0x0003, 0x0009, 0x0019, 0xFFFF} {
			e.text(group<<16|0x0010, "LO", "INVENTED 1.0")
			e.text(group<<16|0x1001, "UT", strings.Repeat("x", 300))
			e.Write(nest(s, group<<16|0x1002, 3, func(e *enc) {
				e.text(group<<16|0x0010, "LO", "INVENTED 1.0")
				e.us(Rows, 99)
				e.Write(nest(s, group<<16|0x1003, 1, func(e *enc) { e.us(Columns, 99) }))
			}))
		}
		e.us(Rows, 7)
		f, err := scan(e.Bytes())
		if err != nil || f.Data.Int(Rows) != Some(int64(7)) || f.Data.Has(Columns) || len(f.Data.Elements) != 2 {
			t.Errorf("%+v: rows %v, %d elements, %v", s, f.Data.Int(Rows), len(f.Data.Elements), err)
		}
	}
}

// TestCharsetOfItems: an item has the character set of its data set unless it names
// one of its own, which ends with it (PS3.5 7.5.3).
func TestCharsetOfItems(t *testing.T) {
	for _, s := range []syntax{{}, {implicit: true}, {big: true}} {
		name := func(b string) func(*enc) { return func(e *enc) { e.text(CodeMeaning, "LO", b) } }
		e := &enc{syntax: s}
		e.text(SpecificCharacterSet, "CS", "ISO_IR 100")
		e.Write(nest(s, ProcedureCodeSequence, 0, name("M\xfcll")))
		e.Write(nest(s, AnatomicRegionSequence, 3, func(e *enc) {
			e.text(SpecificCharacterSet, "CS", "ISO_IR 144")
			name("\xbb\xee\xda")(e)
			e.Write(nest(s, ConceptNameCodeSequence, 2, name("\xbb\xee\xda")))
		}))
		e.text(PatientID, "LO", "M\xfcll")
		f, err := scan(e.Bytes())
		if err != nil {
			t.Fatal(err)
		}
		region := f.Data.Items(AnatomicRegionSequence)
		got := []string{f.Data.Code(ProcedureCodeSequence).Meaning, region[1].String(CodeMeaning), region[1].Code(ConceptNameCodeSequence).Meaning, f.Data.String(PatientID)}
		if want := []string{"Müll", "Люк", "Люк", "Müll"}; !slices.Equal(got, want) {
			t.Errorf("%+v: %q, want %q", s, got, want)
		}
	}
}

// TestSequenceErrors: what cannot be gone over is an error that names the place.
func TestSequenceErrors(t *testing.T) {
	for name, write := range map[string]func(*enc){
		"an open sequence holding an element": func(e *enc) { e.open(SequenceOfUltrasoundRegions); e.us(Rows, 1) },
		"an open item that is not closed":     func(e *enc) { e.open(SequenceOfUltrasoundRegions); e.item(undefinedLength); e.us(RegionDataType, 1) },
		"a text of undefined length":          func(e *enc) { e.head(PatientID, "LO", 0); e.head(DerivationDescription, "UT", undefinedLength) },
		"an item longer than the file":        func(e *enc) { e.open(SequenceOfUltrasoundRegions); e.item(5000) },
	} {
		e := &enc{}
		e.text(SOPClassUID, "UI", "1.2.3")
		write(e)
		f, err := scan(e.Bytes())
		var format *FormatError
		if !errors.As(err, &format) || f.Data.String(SOPClassUID) != "1.2.3" {
			t.Errorf("%s: %v, class %q", name, err, f.Data.String(SOPClassUID))
		}
		if err != nil && !strings.Contains(fmt.Sprint(err), "offset") {
			t.Errorf("%s: no place in %q", name, err)
		}
	}
}
