package survive

import (
	"bufio"
	"bytes"
	"compress/flate"
	"errors"
	"io"
	"math"
	"os"
	"strings"
	"testing"
)

// Transfer syntaxes (PS3.6 Table A-1), and the classes of what is built here.
const (
	implicitLittle = "1.2.840.10008.1.2"
	explicitLittle = "1.2.840.10008.1.2.1"
	deflatedLittle = "1.2.840.10008.1.2.1.99"
	ultrasound     = "1.2.840.10008.5.1.4.1.1.6.1"
	textReport     = "1.2.840.10008.5.1.4.1.1.88.33"
)

// Tags (PS3.6 chapter 6).
const (
	tagTransferSyntax  = 0x00020010
	tagCharacterSet    = 0x00080005
	tagImageType       = 0x00080008
	tagSOPClass        = 0x00080016
	tagSOPInstance     = 0x00080018
	tagPrivate         = 0x00091010
	tagRegions         = 0x00186011
	tagRegionFormat    = 0x00186012
	tagStudy           = 0x0020000D
	tagRows            = 0x00280010
	tagColumns         = 0x00280011
	tagPixels          = 0x7FE00010
	tagItem            = 0xFFFEE000
	tagEndItem         = 0xFFFEE00D
	tagEndSequence     = 0xFFFEE0DD
	tagRelationship    = 0x0040A010
	tagValueType       = 0x0040A040
	tagTextValue       = 0x0040A160
	tagContent         = 0x0040A730
	tagReferencedItem  = 0x0040DB73
	tagGraphicData     = 0x00700022
	tagGraphicType     = 0x00700023
	tagMeasuredValue   = 0x0040A300
	tagNumericValue    = 0x0040A30A
	tagReferencedSOPs  = 0x00081199
	tagReferencedClass = 0x00081150
	tagReferencedUID   = 0x00081155
)

const undefined = 0xFFFFFFFF

// dicom writes data elements, wrong ones too, piece by piece: what is built may be
// large (PS3.5 7.1). The file meta group is explicit always; implicit holds for
// the rest.
type dicom struct {
	w        *bufio.Writer
	implicit bool
}

// longForm are the VRs whose length has 32 bits (PS3.5 7.1.2).
const longForm = "OB OD OF OL OV OW SQ SV UC UN UR UT UV"

func (d *dicom) bytes(b ...byte) { _, _ = d.w.Write(b) }
func (d *dicom) u16(v uint16)    { d.bytes(byte(v), byte(v>>8)) }
func (d *dicom) u32(v uint32)    { d.u16(uint16(v)); d.u16(uint16(v >> 16)) }

// head writes tag, VR and length.
func (d *dicom) head(tag uint32, vr string, length uint32) {
	d.u16(uint16(tag >> 16))
	d.u16(uint16(tag))
	switch {
	case tag>>16 == 0xFFFE || d.implicit && tag>>16 != 2:
		d.u32(length)
	case strings.Contains(longForm, vr):
		d.w.WriteString(vr)
		d.u16(0)
		d.u32(length)
	default:
		d.w.WriteString(vr)
		d.u16(uint16(length))
	}
}

func (d *dicom) text(tag uint32, vr, value string) {
	if len(value)%2 == 1 {
		value += map[bool]string{true: "\x00", false: " "}[vr == "UI"]
	}
	d.head(tag, vr, uint32(len(value)))
	d.w.WriteString(value)
}

func (d *dicom) us(tag uint32, v uint16) { d.head(tag, "US", 2); d.u16(v) }
func (d *dicom) open(tag uint32)         { d.head(tag, "SQ", undefined) }
func (d *dicom) item()                   { d.head(tagItem, "", undefined) }
func (d *dicom) endItem()                { d.head(tagEndItem, "", 0) }
func (d *dicom) endSequence()            { d.head(tagEndSequence, "", 0) }

// repeat writes the same bytes many times over.
func (d *dicom) repeat(n int, write func(*dicom)) {
	piece := piece(d.implicit, write)
	for range n {
		_, _ = d.w.Write(piece)
	}
}

// fill writes a value of n equal bytes.
func (d *dicom) fill(b byte, n int) {
	block := bytes.Repeat([]byte{b}, 1<<16)
	for ; n > 0; n -= len(block) {
		_, _ = d.w.Write(block[:min(n, len(block))])
	}
}

func (d *dicom) floats(values ...float32) {
	for _, v := range values {
		d.u32(math.Float32bits(v))
	}
}

// meta writes preamble, mark and a file meta group of the transfer syntax alone.
func (d *dicom) meta(syntax string) {
	d.fill(0, 128)
	d.w.WriteString("DICM")
	d.text(tagTransferSyntax, "UI", syntax)
}

// identity writes what a study is put together by.
func (d *dicom) identity(class string) {
	d.text(tagSOPClass, "UI", class)
	d.text(tagSOPInstance, "UI", "2.25.7001")
	d.text(tagStudy, "UI", "2.25.7000")
}

// picture ends an image: a size, and pixel data that are whole.
func (d *dicom) picture() {
	d.us(tagRows, 2)
	d.us(tagColumns, 2)
	d.head(tagPixels, "OB", 4)
	d.u32(0)
}

// piece is what write writes.
func piece(implicit bool, write func(*dicom)) []byte {
	var b bytes.Buffer
	d := &dicom{w: bufio.NewWriter(&b), implicit: implicit}
	write(d)
	d.w.Flush()
	return b.Bytes()
}

// builder writes one hostile file.
type builder func(w io.Writer) error

// file builds a file in a syntax; deflated ones are compressed as they are written.
func file(syntax string, write func(*dicom)) builder {
	return func(w io.Writer) error {
		d := &dicom{w: bufio.NewWriterSize(w, 1<<16)}
		d.meta(syntax)
		d.implicit = syntax == implicitLittle
		if syntax != deflatedLittle {
			write(d)
			return d.w.Flush()
		}
		z, err := flate.NewWriter(d.w, flate.BestSpeed)
		if err != nil {
			return err
		}
		inner := &dicom{w: bufio.NewWriter(z)}
		write(inner)
		if err := errors.Join(inner.w.Flush(), z.Close()); err != nil {
			return err
		}
		return d.w.Flush()
	}
}

// squeezed compresses content and ends on a byte without ending the stream, so that
// a large stream can be put together from the same few bytes (RFC 1951).
func squeezed(content []byte) []byte {
	var b bytes.Buffer
	z, err := flate.NewWriter(&b, flate.BestCompression)
	if err != nil {
		panic(err)
	}
	_, _ = z.Write(content)
	_ = z.Flush()
	return b.Bytes()
}

// endOfDeflate is a last block that is empty and stored (RFC 1951 3.2.4).
var endOfDeflate = []byte{1, 0, 0, 0xFF, 0xFF}

// mebibytes compresses n MiB of zeros.
func mebibytes(n int) []byte { return bytes.Repeat(squeezed(make([]byte, 1<<20)), n) }

// plain is a file of these bytes.
func plain(content []byte) builder {
	return func(w io.Writer) error {
		_, err := w.Write(content)
		return err
	}
}

func create(t *testing.T, path string, build builder) {
	t.Helper()
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := build(f); err != nil {
		t.Fatal(err)
	}
}
