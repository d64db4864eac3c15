package dcm

import (
	"bytes"
	"compress/flate"
	"encoding/binary"
	"math"
	"testing"
)

// enc writes data elements for tests, in any of the encodings of PS3.5 7.1.
type enc struct {
	syntax
	bytes.Buffer
}

func (e *enc) order() binary.ByteOrder {
	if e.big {
		return binary.BigEndian
	}
	return binary.LittleEndian
}

func (e *enc) u16(v uint16) { _ = binary.Write(&e.Buffer, e.order(), v) }
func (e *enc) u32(v uint32) { _ = binary.Write(&e.Buffer, e.order(), v) }

func (e *enc) head(tag Tag, vr string, length uint32) {
	e.u16(tag.Group())
	e.u16(uint16(tag))
	if e.implicit || tag.Group() == 0xFFFE {
		e.u32(length)
		return
	}
	e.WriteString(vr)
	if formOf(vr[0], vr[1]) == long {
		e.u16(0)
		e.u32(length)
		return
	}
	e.u16(uint16(length))
}

func (e *enc) text(tag Tag, vr, s string) {
	if len(s)%2 == 1 {
		s += " "
	}
	e.head(tag, vr, uint32(len(s)))
	e.WriteString(s)
}

func (e *enc) us(tag Tag, v uint16)      { e.head(tag, "US", 2); e.u16(v) }
func (e *enc) ul(tag Tag, v uint32)      { e.head(tag, "UL", 4); e.u32(v) }
func (e *enc) sl(tag Tag, v int32)       { e.head(tag, "SL", 4); e.u32(uint32(v)) }
func (e *enc) raw(tag Tag, vr, s string) { e.head(tag, vr, uint32(len(s))); e.WriteString(s) }
func (e *enc) open(tag Tag)              { e.head(tag, "SQ", undefinedLength) }
func (e *enc) item(length uint32)        { e.head(item, "", length) }
func (e *enc) endItem()                  { e.head(itemDelimitation, "", 0) }
func (e *enc) endSequence()              { e.head(sequenceDelimitation, "", 0) }

func (e *enc) fd(tag Tag, v float64) {
	e.head(tag, "FD", 8)
	_ = binary.Write(&e.Buffer, e.order(), math.Float64bits(v))
}

// body writes a small image header with one region, everything of undefined length.
func body(s syntax) []byte {
	e := &enc{syntax: s}
	e.text(SOPClassUID, "UI", "1.2.840.10008.5.1.4.1.1.6.1")
	e.text(SOPInstanceUID, "UI", "2.25.1")
	e.text(PatientWeight, "DS", "1.25")
	e.open(SequenceOfUltrasoundRegions)
	e.item(undefinedLength)
	e.us(RegionSpatialFormat, 1)
	e.ul(RegionLocationMaxX1, 319)
	e.sl(ReferencePixelX0, -7)
	e.fd(PhysicalDeltaX, 0.025)
	e.endItem()
	e.endSequence()
	e.us(Rows, 240)
	e.raw(0x7FE00010, "OW", "pixels")
	return e.Bytes()
}

// withMeta puts preamble, mark and a meta group with this transfer syntax before data.
func withMeta(syntaxUID string, data []byte) []byte {
	e := &enc{}
	e.Write(make([]byte, preamble))
	e.WriteString("DICM")
	e.ul(0x00020000, 9999) // wrong on purpose: the group ends where its tags end
	e.text(TransferSyntaxUID, "UI", syntaxUID)
	e.Write(data)
	return e.Bytes()
}

func deflated(t testing.TB, data []byte) []byte {
	var out bytes.Buffer
	w, err := flate.NewWriter(&out, flate.BestCompression)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := w.Write(data); err != nil {
		t.Fatal(err)
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func scan(data []byte) (*File, error) { return Scan(bytes.NewReader(data), int64(len(data))) }
