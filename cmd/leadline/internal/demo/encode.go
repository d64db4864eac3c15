package demo

import (
	"bytes"
	"compress/flate"
	"encoding/binary"
	"errors"
	"fmt"

	"github.com/suyashkumar/dicom"
	"github.com/suyashkumar/dicom/pkg/frame"
	"github.com/suyashkumar/dicom/pkg/tag"
)

// The transfer syntaxes written (PS3.5 Annex A).
const (
	implicitLE   = "1.2.840.10008.1.2"
	explicitLE   = "1.2.840.10008.1.2.1"
	deflatedLE   = "1.2.840.10008.1.2.1.99"
	explicitBE   = "1.2.840.10008.1.2.2"
	jpegBaseline = "1.2.840.10008.1.2.4.50"
	rleLossless  = "1.2.840.10008.1.2.5"
)

// encode writes a data set as a file of PS3.10 in the transfer syntax.
func encode(d *dataSet, sopClass, sopUID, syntax string) ([]byte, error) {
	return encodeBy(program{version: "LEADLINE_DEMO"}, d, sopClass, sopUID, syntax)
}

// program is what the file meta group says of who wrote a file (PS3.10 7.1).
type program struct{ version, source string }

// class is made from the version, as if every version had one of its own; that of the
// demo archive is older than versions.
func (p program) class() string {
	if p.source == "" {
		return hashUID("implementation")
	}
	return hashUID("implementation", p.version)
}

func encodeBy(by program, d *dataSet, sopClass, sopUID, syntax string) ([]byte, error) {
	elems, err := d.elements()
	if err != nil {
		return nil, err
	}
	written := syntax
	if syntax == deflatedLE {
		written = explicitLE
	}
	meta := &dataSet{}
	meta.put(tag.FileMetaInformationVersion, []byte{0, 1})
	meta.text(tag.MediaStorageSOPClassUID, sopClass)
	meta.text(tag.MediaStorageSOPInstanceUID, sopUID)
	meta.text(tag.TransferSyntaxUID, written)
	meta.text(tag.ImplementationClassUID, by.class())
	meta.text(tag.ImplementationVersionName, by.version)
	if by.source != "" {
		meta.text(tag.SourceApplicationEntityTitle, by.source)
	}
	head, err := meta.elements()
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	if err := dicom.Write(&out, dicom.Dataset{Elements: append(head, elems...)}); err != nil {
		return nil, fmt.Errorf("writing the data set: %w", err)
	}
	if syntax == deflatedLE {
		return deflate(out.Bytes())
	}
	return out.Bytes(), nil
}

// pixelData makes the pixel element: native as one value, encapsulated as one
// fragment a frame behind an empty offset table (PS3.5 A.4).
func pixelData(frames [][]byte, syntax string) (*dicom.Element, error) {
	encapsulated := syntax == jpegBaseline || syntax == rleLossless
	info := dicom.PixelDataInfo{IsEncapsulated: encapsulated, IntentionallyUnprocessed: !encapsulated}
	for _, f := range frames {
		if !encapsulated {
			info.UnprocessedValueData = append(info.UnprocessedValueData, f...)
			continue
		}
		if len(f)%2 == 1 {
			f = append(f, 0)
		}
		info.Frames = append(info.Frames, &frame.Frame{Encapsulated: true, EncapsulatedData: frame.EncapsulatedFrame{Data: f}})
	}
	if len(info.UnprocessedValueData)%2 == 1 {
		info.UnprocessedValueData = append(info.UnprocessedValueData, 0)
	}
	e, err := dicom.NewElement(tag.PixelData, info)
	if err != nil {
		return nil, fmt.Errorf("making the pixel data: %w", err)
	}
	// Eight bits a sample: OB in explicit syntaxes, OW in implicit (PS3.5 A.1, A.2).
	if syntax != implicitLE {
		e.RawValueRepresentation = "OB"
	}
	if encapsulated {
		e.ValueLength = tag.VLUndefinedLength
	}
	return e, nil
}

// metaStart is the offset of the value of the group length, which follows
// preamble, magic word and its own header of 8 bytes (PS3.10 7.1).
const metaStart = 128 + 4 + 8

// deflate turns an explicit little endian file into a deflated one: another
// transfer syntax, and everything behind the meta group as a raw stream of RFC
// 1951 (PS3.5 A.5). The library does not write it.
func deflate(file []byte) ([]byte, error) {
	le := binary.LittleEndian
	metaEnd := metaStart + 4 + int(le.Uint32(file[metaStart:]))
	element := func(uid string) []byte {
		if len(uid)%2 == 1 {
			uid += "\x00"
		}
		head := le.AppendUint16([]byte{0x02, 0x00, 0x10, 0x00, 'U', 'I'}, uint16(len(uid)))
		return append(head, uid...)
	}
	before, after, found := bytes.Cut(file[:metaEnd], element(explicitLE))
	if !found {
		return nil, errors.New("deflating: no transfer syntax in the meta group")
	}
	out := bytes.Join([][]byte{before, element(deflatedLE), after}, nil)
	le.PutUint32(out[metaStart:], uint32(len(out)-metaStart-4))
	var packed bytes.Buffer
	w, err := flate.NewWriter(&packed, flate.BestCompression)
	if err != nil {
		return nil, fmt.Errorf("deflating: %w", err)
	}
	if _, err := w.Write(file[metaEnd:]); err != nil {
		return nil, fmt.Errorf("deflating: %w", err)
	}
	if err := w.Close(); err != nil {
		return nil, fmt.Errorf("deflating: %w", err)
	}
	if packed.Len()%2 == 1 {
		packed.WriteByte(0)
	}
	return append(out, packed.Bytes()...), nil
}
