package dcm

import (
	"errors"
	"fmt"
	"io"
)

// Limits of one header. Real reports hold some ten thousand elements; the limits
// leave room for a hundred times the usual and end what would swamp the machine.
const (
	maxDepth    = 64
	maxElements = 250_000 // items of wanted sequences included
	maxKept     = 16 << 20
	maxWalked   = 2_000_000
)

// PixelState is what can be said of the pixel data without reading them.
type PixelState int

// The states: no pixel data element, all of it there, or cut short.
const (
	PixelsAbsent PixelState = iota
	PixelsWhole
	PixelsCut
)

// File is the header of one DICOM file: its wanted elements.
type File struct {
	// Meta holds group 0002, which may be empty; Data the rest.
	Meta, Data Dataset
	// TransferSyntaxUID is as the file declares it, empty where it does not;
	// Guessed tells that the encoding was judged from the bytes instead.
	TransferSyntaxUID string
	Guessed           bool
	Pixels            PixelState
	// BareItem tells that an item stood where no sequence was open: the tag that
	// should hold it is lost.
	BareItem bool
	// BytesRead counts what was read of the file.
	BytesRead int64
}

// Scan reads the header of the file that r holds, of size bytes. See Scanner.
func Scan(r io.ReaderAt, size int64) (*File, error) { return new(Scanner).Scan(r, size) }

// Scanner scans one file after the other and keeps its buffers: the File that it
// returns, with all its elements, is valid until the next call. It is not safe for
// concurrent use; the zero value is ready.
type Scanner struct {
	file fileSource
	src  source
	// window are the bytes of src at hand, from windowStart on.
	window      []byte
	windowStart int64

	out    File
	common shared
	words  repeated
	// stack and sets hold the elements and items that are not finished yet; the
	// slabs what is.
	stack    []Element
	sets     []Dataset
	values   slab[byte]
	elements slab[Element]
	datasets slab[Dataset]
	small    [8]byte

	// picture tells that a picture's elements are wanted too; place is where its pixel
	// data were met.
	picture bool
	place   *Place

	kept, counted, walked int
}

// syntax is how elements are written.
type syntax struct{ implicit, big bool }

// Scan reads the header of the file that r holds, of size bytes.
//
// What is returned with an error holds what was read before it, so that a broken
// file can still be named. The error wraps ErrNotDICOM, *FormatError or
// *LimitError, or is one of reading.
func (s *Scanner) Scan(r io.ReaderAt, size int64) (*File, error) {
	s.file.reset(r, size)
	f, err := s.run(&s.file)
	f.BytesRead = s.file.read
	return f, err
}

// ScanStream reads the header of a file that can only be read forward, of size
// bytes: a member of a compressed archive. It reads no further than the header,
// and does not say whether encapsulated pixel data are whole.
func (s *Scanner) ScanStream(r io.Reader, size int64) (*File, error) {
	s.file.reset(nil, size)
	stream := &streamSource{r: r, size: size, known: true}
	f, err := s.run(stream)
	f.BytesRead = stream.read
	return f, err
}

func (s *Scanner) run(src source) (*File, error) {
	s.out = File{}
	s.common = shared{words: &s.words}
	s.out.Meta.shared, s.out.Data.shared = &s.common, &s.common
	s.stack, s.sets = emptied(s.stack), emptied(s.sets)
	s.values.reset()
	s.elements.reset()
	s.datasets.reset()
	s.kept, s.counted, s.walked = 0, 0, 0
	s.from(src)
	return &s.out, s.scan()
}

// from reads on from another source.
func (s *Scanner) from(src source) { s.src, s.window = src, nil }

// at returns n bytes from off on, valid until the next call.
func (s *Scanner) at(off int64, n int) ([]byte, error) {
	if i := off - s.windowStart; i >= 0 && i+int64(n) <= int64(len(s.window)) {
		return s.window[i : i+int64(n)], nil
	}
	b, err := s.src.at(off, n)
	s.window, s.windowStart = s.src.window()
	return b, err
}

func (s *Scanner) scan() error {
	start, err := s.openMeta()
	if err != nil {
		return err
	}
	enc, start, err := s.openData(start)
	if err != nil {
		return err
	}
	s.out.Data.big = enc.big
	return s.dataset(&s.out.Data, &frame{off: start, end: s.src.length(), enc: enc, top: true, keep: true})
}

// frame is the stretch of the stream that one data set or sequence covers.
type frame struct {
	off, end int64
	// open tells that a delimiter ends it, not its length.
	open  bool
	enc   syntax
	depth int
	// top tells the outermost data set; keep that its wanted elements are kept.
	top, keep bool
	charset   *Charset
}

// header is the tag, VR and length of one element; value is where its value begins.
type header struct {
	tag       Tag
	vr        VR
	length    int64
	undefined bool
	value     int64
	offset    int64
}

const undefinedLength = 0xFFFFFFFF

// dataset walks the outermost elements into d, to the end or the pixel data.
func (s *Scanner) dataset(d *Dataset, f *frame) error {
	base := len(s.stack)
	_, err := s.elementsOf(d, f)
	s.finish(d, base)
	return err
}

// finish gives d the elements pushed since base.
func (s *Scanner) finish(d *Dataset, base int) {
	d.Elements = s.elements.keep(s.stack[base:])
	d.ascending = ascend(d.Elements)
	s.stack = s.stack[:base]
}

func ascend(elements []Element) bool {
	for i := 1; i < len(elements); i++ {
		if elements[i].Tag < elements[i-1].Tag {
			return false
		}
	}
	return true
}

// elementsOf pushes the wanted elements onto the stack and returns where the data
// set ended, behind its delimiter. The frame is its own to change.
func (s *Scanner) elementsOf(d *Dataset, f *frame) (int64, error) {
	d.charset, d.big = f.charset, f.enc.big
	var h header
	for off := f.off; ; {
		if off == f.end && !f.open {
			return off, nil
		}
		err := s.header(&h, off, f)
		if err != nil {
			if f.top && s.padding(off) {
				return f.end, nil
			}
			return off, err
		}
		if h.tag == itemDelimitation && f.open && !f.top {
			return h.value, nil
		}
		if f.top && isPixelData(h.tag) {
			return off, s.pixels(&h, f)
		}
		f.charset = d.charset
		off, err = s.element(d, &h, f)
		if err != nil {
			return off, err
		}
	}
}

const (
	item                 Tag = 0xFFFEE000
	itemDelimitation     Tag = 0xFFFEE00D
	sequenceDelimitation Tag = 0xFFFEE0DD
)

func isPixelData(t Tag) bool { return t == 0x7FE00010 || t == 0x7FE00008 || t == 0x7FE00009 }

// element handles one element and returns where the next one begins.
func (s *Scanner) element(d *Dataset, h *header, f *frame) (int64, error) {
	if s.walked++; s.walked > maxWalked {
		return h.offset, &LimitError{What: "header elements", Limit: maxWalked, Offset: h.offset}
	}
	if h.tag.Group() == 0xFFFE {
		return s.stray(h, f)
	}
	known, want := wantedVR(h.tag)
	if s.picture && !want && f.top {
		known, want = pictureVR(h.tag)
	}
	want = want && f.keep
	if h.vr == (VR{}) || h.vr == vrUN {
		if want {
			return s.asDictionary(d, h, f, known)
		}
		if h.undefined {
			return s.sequence(nil, h, s.unknownFrame(h, f))
		}
	}
	switch {
	case h.vr == vrSQ && want && known == vrSQ:
		return s.sequence(d, h, f)
	case h.vr == vrSQ:
		if want {
			s.misfit(d, h, "a value, and it is a sequence")
		}
		return s.skipSequence(h, f)
	case h.undefined:
		if want {
			s.misfit(d, h, "a value of defined length")
		}
		return s.fragments(h, f)
	case want && known != vrSQ:
		return h.value + h.length, s.keep(d, h, h.vr)
	case want:
		s.misfit(d, h, "a sequence")
	}
	return h.value + h.length, nil
}

// asDictionary reads an element of no or unknown VR as the data dictionary names
// it. A value of VR UN is implicit little endian whatever the file is (PS3.5 6.2.2).
func (s *Scanner) asDictionary(d *Dataset, h *header, f *frame, known VR) (int64, error) {
	if known == vrSQ {
		return s.sequence(d, h, s.unknownFrame(h, f))
	}
	if h.undefined {
		return h.offset, &FormatError{Offset: h.offset, Tag: h.tag, Expected: "a defined length"}
	}
	err := s.keep(d, h, known)
	if err == nil && h.vr == vrUN && f.enc.big {
		turnRound(&s.stack[len(s.stack)-1])
	}
	return h.value + h.length, err
}

// stray steps over an item or delimiter where no sequence is open: some writers
// lose the tag that should hold it.
func (s *Scanner) stray(h *header, f *frame) (int64, error) {
	if !f.top && h.tag != itemDelimitation {
		return h.offset, &FormatError{Offset: h.offset, Tag: h.tag, Expected: "an element inside the item"}
	}
	if h.tag == item {
		s.out.BareItem = true
	}
	return h.value, nil
}

// keep copies the value of a wanted element.
func (s *Scanner) keep(d *Dataset, h *header, vr VR) error {
	if s.kept += int(h.length); s.kept > maxKept {
		return &LimitError{What: "bytes of wanted values", Limit: maxKept, Offset: h.offset}
	}
	if err := s.count(h.offset); err != nil {
		return err
	}
	var value []byte
	if h.length > 0 {
		raw, err := s.at(h.value, int(h.length))
		if err != nil {
			return s.readError(h, err)
		}
		value = s.values.keep(raw)
	}
	s.stack = append(s.stack, Element{Tag: h.tag, VR: vr, Value: value, Offset: h.offset})
	if h.tag == SpecificCharacterSet {
		s.declare(d, &s.stack[len(s.stack)-1])
	}
	return nil
}

func (s *Scanner) count(offset int64) error {
	if s.counted++; s.counted > maxElements {
		return &LimitError{What: "wanted elements and items", Limit: maxElements, Offset: offset}
	}
	return nil
}

// declare makes the character set that e names the one of d and its items.
func (s *Scanner) declare(d *Dataset, e *Element) {
	terms := (&Dataset{Elements: []Element{*e}}).Strings(SpecificCharacterSet)
	if numberWidth(e.VR) > 0 {
		terms = []string{"?"}
	}
	d.charset = NewCharset(terms)
	if !d.charset.Known {
		d.problem(e, "character set terms of the standard")
	}
}

// misfit notes a wanted element whose VR contradicts the dictionary so that it
// cannot be read.
func (s *Scanner) misfit(d *Dataset, h *header, expected string) {
	d.problem(&Element{Tag: h.tag, Offset: h.offset}, expected)
}

// readError names the element whose value could not be had.
func (s *Scanner) readError(h *header, err error) error {
	if errors.Is(err, io.ErrUnexpectedEOF) {
		return &FormatError{Offset: h.offset, Tag: h.tag, Expected: fmt.Sprintf("%d bytes of value, and the file ends before", h.length)}
	}
	return fmt.Errorf("element %s at offset %d: %w", h.tag, h.offset, err)
}

// padding tells that only zero bytes follow, a few thousand at most: some writers
// fill files up.
func (s *Scanner) padding(off int64) bool {
	const most = 64 << 10
	for i := int64(0); i < most; i++ {
		b, err := s.at(off+i, 1)
		if errors.Is(err, io.ErrUnexpectedEOF) {
			return true
		}
		if err != nil || b[0] != 0 {
			return false
		}
	}
	return false
}
