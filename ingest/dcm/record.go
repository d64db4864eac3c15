package dcm

import (
	"encoding/binary"
	"errors"
)

// maxRecord bounds one record: what the limits of a scan let it keep, with room for
// what stands around the values. What is larger is scanned anew each time.
const maxRecord = 32 << 20

// outcomeKind is what a scan ended with, as a record holds it.
type outcomeKind byte

const (
	outcomeRead outcomeKind = iota
	outcomeNotDICOM
	outcomeFormat
	outcomeLimit
	outcomeKinds
)

// The parts of a record's first byte.
const (
	recordGuessed = 1 << iota
	recordBareItem
	recordPixels // and the bit above it
)

// AppendRecord appends to b what a scan returned, so that a RecordReader returns
// the same again: file and outcome, the error. BytesRead is not kept, since reading
// a record reads nothing of the file.
//
// It is to be called before values are decoded, which notes problems. ok is false,
// and b as it was, where a scan is to be repeated: it ended with an error of reading,
// which is not the file's own, or it is larger than a record may be.
//
// A record begins with the number of elements and of items in it, so that a reader
// makes room once. Integers are varints in their shortest form (package
// encoding/binary) except where a width is given:
//
//	elements, items (4 bytes each), flags (1), transfer syntax, outcome,
//	problems, meta data set, data set
//	data set  byte order and character set, number of elements, elements
//	element   tag (4), VR (2), offset, then items (VR SQ) or value
//	strings and values have their length before them
func AppendRecord(b []byte, f *File, outcome error) (_ []byte, ok bool) {
	kind, ok := kindOfOutcome(outcome)
	if !ok {
		return b, false
	}
	w := recordWriter{b: b, start: len(b)}
	w.b = append(w.b, make([]byte, 8)...)
	w.b = append(w.b, recordFlags(f))
	w.text(f.TransferSyntaxUID)
	w.outcome(kind, outcome)
	problems := f.Data.Problems()
	w.number(uint64(len(problems)))
	for _, p := range problems {
		w.place(p.Offset, p.Tag)
		w.text(p.Expected)
	}
	if !w.dataset(&f.Meta) || !w.dataset(&f.Data) {
		return b, false
	}
	binary.LittleEndian.PutUint32(w.b[w.start:], w.elements)
	binary.LittleEndian.PutUint32(w.b[w.start+4:], w.items)
	return w.b, w.fits()
}

// kindOfOutcome tells the outcomes that are the file's own from those of reading.
func kindOfOutcome(err error) (outcomeKind, bool) {
	var (
		format *FormatError
		limit  *LimitError
	)
	switch {
	case err == nil:
		return outcomeRead, true
	case errors.Is(err, ErrNotDICOM):
		return outcomeNotDICOM, true
	case errors.As(err, &format):
		return outcomeFormat, true
	case errors.As(err, &limit):
		return outcomeLimit, true
	}
	return 0, false
}

func recordFlags(f *File) byte {
	flags := byte(f.Pixels) * recordPixels
	if f.Guessed {
		flags |= recordGuessed
	}
	if f.BareItem {
		flags |= recordBareItem
	}
	return flags
}

// recordWriter writes one record.
type recordWriter struct {
	b               []byte
	start           int
	elements, items uint32
	// charsets numbers the character sets met; items share that of the file.
	charsets map[*Charset]uint64
}

func (w *recordWriter) fits() bool { return len(w.b)-w.start <= maxRecord }

func (w *recordWriter) number(v uint64) { w.b = binary.AppendUvarint(w.b, v) }

func (w *recordWriter) text(s string) {
	w.number(uint64(len(s)))
	w.b = append(w.b, s...)
}

func (w *recordWriter) place(offset int64, tag Tag) {
	w.number(uint64(offset))
	w.b = binary.LittleEndian.AppendUint32(w.b, uint32(tag))
}

// outcome writes the kind of an error, its text, and the fields of what it wraps.
func (w *recordWriter) outcome(kind outcomeKind, err error) {
	w.b = append(w.b, byte(kind))
	if kind == outcomeRead {
		return
	}
	w.text(err.Error())
	var (
		format *FormatError
		limit  *LimitError
	)
	switch {
	case kind == outcomeFormat && errors.As(err, &format):
		w.place(format.Offset, format.Tag)
		w.text(format.Expected)
	case kind == outcomeLimit && errors.As(err, &limit):
		w.number(uint64(limit.Offset))
		w.number(uint64(limit.Limit))
		w.text(limit.What)
	}
}

// The character set of a data set: none, one that was not met before and follows,
// or, from charsetMet on, the number of one that was.
const (
	charsetNone = iota
	charsetNew
	charsetMet
)

// dataset writes d and what is in it; false where the record grows too large.
func (w *recordWriter) dataset(d *Dataset) bool {
	w.encoding(d)
	w.number(uint64(len(d.Elements)))
	w.elements += uint32(len(d.Elements))
	for i := range d.Elements {
		if !w.element(&d.Elements[i]) {
			return false
		}
	}
	return w.fits()
}

// encoding writes the byte order, in the lowest bit, and the character set of d.
func (w *recordWriter) encoding(d *Dataset) {
	var big uint64
	if d.big {
		big = 1
	}
	if d.charset == nil {
		w.number(charsetNone<<1 | big)
		return
	}
	if n, met := w.charsets[d.charset]; met {
		w.number((charsetMet+n)<<1 | big)
		return
	}
	if w.charsets == nil {
		w.charsets = map[*Charset]uint64{}
	}
	w.charsets[d.charset] = uint64(len(w.charsets))
	w.number(charsetNew<<1 | big)
	w.number(uint64(len(d.charset.Declared)))
	for _, term := range d.charset.Declared {
		w.text(term)
	}
}

func (w *recordWriter) element(e *Element) bool {
	w.b = binary.LittleEndian.AppendUint32(w.b, uint32(e.Tag))
	w.b = append(w.b, e.VR[0], e.VR[1])
	w.number(uint64(e.Offset))
	if e.VR != vrSQ {
		w.number(uint64(len(e.Value)))
		w.b = append(w.b, e.Value...)
		return true
	}
	w.number(uint64(len(e.Items)))
	w.items += uint32(len(e.Items))
	for i := range e.Items {
		if !w.dataset(&e.Items[i]) {
			return false
		}
	}
	return true
}
