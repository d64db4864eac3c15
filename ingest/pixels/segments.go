package pixels

import "encoding/binary"

// The kinds of segment (PS3.3 C.7.9.2.2).
const (
	discreteSegment = iota
	linearSegment
	indirectSegment
)

// segments expands a segmented palette of 16-bit entries (PS3.3 C.7.9.2) into at most
// limit of them.
type segments struct {
	words []uint16
	out   []uint16
	limit int
}

func wordsOf(b []byte, big bool) []uint16 {
	words := make([]uint16, len(b)/2)
	for i := range words {
		words[i] = binary.LittleEndian.Uint16(b[2*i:])
		if big {
			words[i] = words[i]<<8 | words[i]>>8
		}
	}
	return words
}

// expand is the upper half of each entry; ok is false where the segments are not just
// as many as are wanted.
func expand(words []uint16, entries int) (table []byte, ok bool) {
	s := &segments{words: words, limit: entries}
	for at := 0; at >= 0 && at < len(words) && len(s.out) < entries; {
		at = s.segment(at, true)
	}
	if len(s.out) != entries {
		return nil, false
	}
	table = make([]byte, entries)
	for i, v := range s.out {
		table[i] = byte(v >> 8)
	}
	return table, true
}

// segment expands the one at a place and returns that of the next, -1 where it cannot
// be. Only a segment of the list itself may lead to others, so that none leads to itself.
func (s *segments) segment(at int, mayLead bool) int {
	if at < 0 || at+3 > len(s.words) {
		return -1
	}
	kind, n, from := s.words[at], int(s.words[at+1]), at+2
	switch {
	case n == 0: // nothing: a chain of these would be followed for nothing, over and over
		return -1
	case kind == discreteSegment && from+n <= len(s.words) && n <= s.room():
		s.out = append(s.out, s.words[from:from+n]...)
		return from + n
	case kind == linearSegment && len(s.out) > 0 && n <= s.room():
		s.line(n, s.words[from])
		return from + 1
	case kind == indirectSegment && mayLead && from+2 <= len(s.words):
		return s.indirect(n, int(s.words[from])|int(s.words[from+1])<<16, from+2)
	}
	return -1
}

func (s *segments) room() int { return s.limit - len(s.out) }

// line appends n entries that lead from the last one to the end, that included.
func (s *segments) line(n int, end uint16) {
	from := float64(s.out[len(s.out)-1])
	for i := 1; i <= n; i++ {
		s.out = append(s.out, uint16(from+(float64(end)-from)*float64(i)/float64(n)+0.5))
	}
}

// indirect expands n segments once more that stand at an offset in bytes.
func (s *segments) indirect(n, offset, next int) int {
	at := offset / 2
	for range n {
		if at = s.segment(at, false); at < 0 {
			return -1
		}
	}
	return next
}
