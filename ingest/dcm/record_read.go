package dcm

import (
	"encoding/binary"
	"errors"
)

// ErrRecord tells that bytes are not a record that AppendRecord wrote.
var ErrRecord = errors.New("not a record of a scan")

// The fewest bytes that an element and an item take in a record. They bound how
// much room the counts at its beginning may ask for.
const (
	leastElement = 8
	leastItem    = 2
)

// RecordReader reads records one after the other and keeps its buffers: the File
// that it returns is valid until the next call, and as long as the record's bytes
// are. It is not safe for concurrent use; the zero value is ready.
type RecordReader struct {
	b        []byte
	bad      bool
	file     File
	common   shared
	words    repeated
	elements room[Element]
	items    room[Dataset]
	charsets []*Charset
}

// Read returns what the scan that the record was made of returned. It fails with
// ErrRecord where AppendRecord cannot have written these bytes: nothing is returned
// then. It is held to the limits of a scan.
func (r *RecordReader) Read(record []byte) (f *File, outcome, err error) {
	r.reset(record)
	r.room()
	r.flags(r.byte())
	r.file.TransferSyntaxUID = r.text()
	outcome = r.outcome()
	for n := r.count(1); n > 0 && !r.bad; n-- {
		p := Problem{Offset: r.offset(), Tag: r.tag()}
		p.Expected = r.text()
		r.common.problems = append(r.common.problems, p)
	}
	r.dataset(&r.file.Meta, 0)
	r.dataset(&r.file.Data, 0)
	if r.bad || len(r.b) > 0 || !r.elements.full() || !r.items.full() {
		return nil, nil, ErrRecord
	}
	return &r.file, outcome, nil
}

func (r *RecordReader) reset(record []byte) {
	r.b, r.bad = record, len(record) > maxRecord
	r.file, r.common = File{}, shared{words: &r.words}
	r.file.Meta.shared, r.file.Data.shared = &r.common, &r.common
	r.charsets = r.charsets[:0]
}

// room makes place for the elements and items that the record says it holds.
func (r *RecordReader) room() {
	elements, items := int64(r.uint32()), int64(r.uint32())
	rest := int64(len(r.b))
	if r.bad || elements > min(rest/leastElement, maxElements) || items > min(rest/leastItem, maxWalked) {
		r.bad = true
		elements, items = 0, 0
	}
	r.elements.reset(int(elements))
	r.items.reset(int(items))
}

// piece takes n from what there is room for; nil where the record said of fewer.
func piece[T any](r *RecordReader, from *room[T], n int) []T {
	if r.bad {
		return nil
	}
	taken, ok := from.take(n)
	r.bad = !ok
	return taken
}

// take returns the next n bytes, nil where they are not there.
func (r *RecordReader) take(n uint64) []byte {
	if r.bad || n > uint64(len(r.b)) {
		r.bad = true
		return nil
	}
	taken := r.b[:n:n]
	r.b = r.b[n:]
	return taken
}

func (r *RecordReader) byte() byte {
	if b := r.take(1); b != nil {
		return b[0]
	}
	return 0
}

func (r *RecordReader) uint32() uint32 {
	if b := r.take(4); b != nil {
		return binary.LittleEndian.Uint32(b)
	}
	return 0
}

// number reads a varint in its shortest form.
func (r *RecordReader) number() uint64 {
	v, n := binary.Uvarint(r.b)
	if r.bad || n <= 0 || (n > 1 && r.b[n-1] == 0) {
		r.bad = true
		return 0
	}
	r.b = r.b[n:]
	return v
}

// count reads how many of something follow, which take at least so many bytes each.
func (r *RecordReader) count(least int) int {
	n := r.number()
	if n > uint64(len(r.b)/least) {
		r.bad = true
		return 0
	}
	return int(n)
}

func (r *RecordReader) text() string  { return string(r.take(r.number())) }
func (r *RecordReader) offset() int64 { return int64(r.number()) }
func (r *RecordReader) tag() Tag      { return Tag(r.uint32()) }

func (r *RecordReader) flags(b byte) {
	r.file.Guessed = b&recordGuessed != 0
	r.file.BareItem = b&recordBareItem != 0
	r.file.Pixels = PixelState(b / recordPixels)
	if r.file.Pixels > PixelsCut {
		r.bad = true
	}
}

// keptError is an error read from a record: its text, and what it wraps.
type keptError struct {
	text string
	kind error
}

func (e *keptError) Error() string { return e.text }
func (e *keptError) Unwrap() error { return e.kind }

func (r *RecordReader) outcome() error {
	kind := outcomeKind(r.byte())
	if kind >= outcomeKinds {
		r.bad = true
	}
	if kind == outcomeRead || r.bad {
		return nil
	}
	e := &keptError{text: r.text()}
	switch kind {
	case outcomeNotDICOM:
		e.kind = ErrNotDICOM
	case outcomeFormat:
		format := &FormatError{Offset: r.offset(), Tag: r.tag()}
		format.Expected = r.text()
		e.kind = format
	case outcomeLimit:
		limit := &LimitError{Offset: r.offset(), Limit: r.offset()}
		limit.What = r.text()
		e.kind = limit
	}
	return e
}

// dataset reads one data set at this depth of sequences, the outermost being 0.
func (r *RecordReader) dataset(d *Dataset, depth int) {
	if depth > maxDepth {
		r.bad = true
		return
	}
	d.shared = &r.common
	r.encoding(d)
	if n := r.count(leastElement); n > 0 {
		d.Elements = piece(r, &r.elements, n)
	}
	for i := range d.Elements {
		if r.element(&d.Elements[i], depth); r.bad {
			return
		}
	}
	d.ascending = ascend(d.Elements)
}

func (r *RecordReader) encoding(d *Dataset) {
	word := r.number()
	d.big = word&1 != 0
	switch charset := word >> 1; {
	case charset == charsetNone:
	case charset == charsetNew:
		d.charset = r.declared()
		r.charsets = append(r.charsets, d.charset)
	case charset-charsetMet < uint64(len(r.charsets)):
		d.charset = r.charsets[charset-charsetMet]
	default:
		r.bad = true
	}
}

// declared reads the terms of a character set.
func (r *RecordReader) declared() *Charset {
	terms := make([]string, r.count(1))
	for i := range terms {
		terms[i] = r.text()
	}
	if r.bad {
		return nil
	}
	return NewCharset(terms)
}

func (r *RecordReader) element(e *Element, depth int) {
	*e = Element{Tag: r.tag()}
	copy(e.VR[:], r.take(2))
	e.Offset = r.offset()
	if e.VR != vrSQ {
		if n := r.number(); n > 0 {
			e.Value = r.take(n)
		}
		return
	}
	if n := r.count(leastItem); n > 0 {
		e.Items = piece(r, &r.items, n)
	}
	for i := range e.Items {
		e.Items[i] = Dataset{}
		if r.dataset(&e.Items[i], depth+1); r.bad {
			return
		}
	}
}
