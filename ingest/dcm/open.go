package dcm

import (
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"strings"
)

// preamble is how many bytes stand before the DICM mark (PS3.10 7.1).
const preamble = 128

// openMeta finds the file meta group, reads it, and returns where the data set
// begins. A file without preamble is taken where its first element is plausible.
func (s *Scanner) openMeta() (int64, error) {
	size := s.src.length()
	if size == 0 {
		return 0, fmt.Errorf("%w: the file is empty", ErrNotDICOM)
	}
	head, err := s.at(0, int(min(size, firstRead)))
	if err != nil {
		return 0, err
	}
	switch {
	case marked(head):
		return s.metaGroup(preamble + 4)
	case len(head) >= 8 && startsMeta(head):
		return s.metaGroup(0)
	}
	return dataWithoutMeta(head)
}

// marked tells that the DICM mark stands behind a preamble. In a file without
// preamble the four letters may be part of a value: the first element shows it.
func marked(head []byte) bool {
	if len(head) < preamble+4 || string(head[preamble:preamble+4]) != "DICM" {
		return false
	}
	behind := head[preamble+4:]
	if len(behind) < 2 || binary.LittleEndian.Uint16(behind) == 0x0002 {
		return true
	}
	_, bare := guess(head)
	return !bare
}

// dataWithoutMeta accepts a bare data set at the start, or behind a preamble that
// lacks its mark.
func dataWithoutMeta(head []byte) (int64, error) {
	for _, start := range []int{0, preamble} {
		if len(head) > start+8 {
			if _, ok := guess(head[start:]); ok {
				return int64(start), nil
			}
		}
	}
	return 0, fmt.Errorf("%w: %s", ErrNotDICOM, describe(head))
}

func startsMeta(b []byte) bool {
	return binary.LittleEndian.Uint16(b) == 0x0002 && formOf(b[4], b[5]) != unknownForm
}

// metaGroup reads group 0002, which is explicit little endian always. It ends
// where another group begins, judged by the tag: the group length is often wrong.
func (s *Scanner) metaGroup(start int64) (int64, error) {
	f := frame{off: start, end: s.src.length(), top: true, keep: true}
	base := len(s.stack)
	off := start
	var h header
	for off < f.end {
		b, err := s.at(off, 2)
		if err != nil || binary.LittleEndian.Uint16(b) != 0x0002 {
			break
		}
		err = s.header(&h, off, &f)
		if err == nil {
			off, err = s.element(&s.out.Meta, &h, &f)
		}
		if err != nil {
			return off, fmt.Errorf("reading the file meta group: %w", err)
		}
	}
	s.finish(&s.out.Meta, base)
	if off >= f.end {
		return off, &FormatError{Offset: off, Expected: "a data set behind the file meta group, and the file ends"}
	}
	return off, nil
}

// The transfer syntaxes that are not explicit little endian (PS3.5 Annex A,
// PS3.6 Table A-1). The last implicit one is an old private syntax met in
// archives, whose header is implicit little endian (from memory).
var (
	implicitSyntaxes = map[string]bool{"1.2.840.10008.1.2": true, "1.2.840.113619.5.2": true}
	deflatedSyntaxes = map[string]bool{
		"1.2.840.10008.1.2.1.99": true, "1.2.840.10008.1.2.4.95": true, "1.2.840.10008.1.2.4.205": true,
	}
)

const bigEndianSyntax = "1.2.840.10008.1.2.2"

// KnownSyntax tells whether uid is a transfer syntax of the standard, by its root.
func KnownSyntax(uid string) bool {
	if implicitSyntaxes[uid] || uid == bigEndianSyntax {
		return true
	}
	for _, root := range []string{"1.2.840.10008.1.2.1", "1.2.840.10008.1.2.4.", "1.2.840.10008.1.2.5", "1.2.840.10008.1.2.6.", "1.2.840.10008.1.2.7.", "1.2.840.10008.1.2.8."} {
		if strings.HasPrefix(uid, root) {
			return true
		}
	}
	return false
}

// openData settles how the data set at start is written: as the transfer syntax
// says, except where the first element shows otherwise, as in real files.
func (s *Scanner) openData(start int64) (syntax, int64, error) {
	uid := s.out.Meta.String(TransferSyntaxUID)
	s.out.TransferSyntaxUID = uid
	if deflatedSyntaxes[uid] {
		s.from(newInflateSource(&sequential{s: s.src, off: start}))
		start = 0
	}
	head, err := s.first(start)
	if err != nil {
		return syntax{}, start, err
	}
	seen, plausible := guess(head)
	if !KnownSyntax(uid) {
		s.out.Guessed = true
		if !plausible {
			return syntax{}, start, &FormatError{Offset: start, Expected: "a known transfer syntax (0002,0010), or a first element that shows how the data set is written"}
		}
		return seen, start, nil
	}
	declared := syntax{implicit: implicitSyntaxes[uid], big: uid == bigEndianSyntax}
	if plausible && seen != declared {
		s.out.Guessed = true
		return seen, start, nil
	}
	return declared, start, nil
}

// first returns the beginning of the data set.
func (s *Scanner) first(start int64) ([]byte, error) {
	b, err := s.at(start, 8)
	if errors.Is(err, io.ErrUnexpectedEOF) {
		return nil, &FormatError{Offset: start, Expected: "a data set, and the file ends"}
	}
	return b, err
}

// guess judges from the first element how a data set is written. Only groups that
// a data set begins with count, since two bytes of anything look like a tag.
func guess(b []byte) (syntax, bool) {
	if len(b) < 8 {
		return syntax{}, false
	}
	explicit := formOf(b[4], b[5]) != unknownForm
	little, big := binary.LittleEndian.Uint16(b), binary.BigEndian.Uint16(b)
	switch {
	case beginsDataset(little) && explicit:
		return syntax{}, true
	case beginsDataset(little) && binary.LittleEndian.Uint32(b[4:]) < 1<<16:
		return syntax{implicit: true}, true
	case beginsDataset(big) && explicit:
		return syntax{big: true}, true
	}
	return syntax{}, false
}

// beginsDataset tells the groups that files are seen to begin with: directory
// (0004), identification (0008), patient (0010) where group 8 is missing.
func beginsDataset(group uint16) bool { return group == 0x0004 || group == 0x0008 || group == 0x0010 }
