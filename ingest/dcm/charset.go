package dcm

import (
	"bytes"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/japanese"
	"golang.org/x/text/encoding/korean"
	"golang.org/x/text/encoding/simplifiedchinese"
)

// Charset decodes text as Specific Character Set says (PS3.3 C.12.1.1.2, PS3.5
// 6.1). A nil Charset is the default repertoire, ASCII.
type Charset struct {
	// Declared are the terms as written; Known tells that all are understood.
	Declared []string
	Known    bool
	// whole decodes the entire text at once, for sets without escapes.
	whole encoding.Encoding
	// utf8 tells that text is UTF-8 as it stands.
	utf8 bool
	// first is what bytes of 80H and above mean before any escape.
	first half
}

// half decodes the bytes of one code element: 94 or 96 characters, or a set of
// two-byte characters.
type half struct {
	wide int // bytes per character
	// decode takes whole characters, any number of them: made anew for each, the
	// decoders of a long text take a minute.
	decode func([]byte) string
}

// singles are the sets of one byte per character, by the number of the term
// ISO_IR n or ISO 2022 IR n.
var singles = map[string]encoding.Encoding{
	"100": charmap.ISO8859_1, "101": charmap.ISO8859_2, "109": charmap.ISO8859_3,
	"110": charmap.ISO8859_4, "144": charmap.ISO8859_5, "127": charmap.ISO8859_6,
	"126": charmap.ISO8859_7, "138": charmap.ISO8859_8, "148": charmap.ISO8859_9,
	"203": charmap.ISO8859_15, "166": charmap.Windows874,
}

// wideTerms are the terms of two-byte sets. They are reached by an escape; where one
// of the right half is the only term or the first, writers leave the escape out
// (common practice, no source), and its bytes can mean nothing else.
var wideTerms = map[string]struct {
	half
	right bool
}{"87": {jis0208, false}, "159": {jis0212, false}, "149": {ksx1001, true}, "58": {gb2312, true}}

// NewCharset reads the terms of Specific Character Set. Terms that are not
// understood are kept in Declared; text is then read as ASCII or UTF-8.
func NewCharset(terms []string) *Charset {
	c := &Charset{Declared: terms, Known: true}
	for i, term := range terms {
		c.term(i, strings.TrimSpace(term))
	}
	return c
}

func (c *Charset) term(place int, term string) {
	switch term {
	case "", "ISO_IR 6", "ISO 2022 IR 6":
		return
	case "ISO_IR 192":
		c.utf8 = true
		return
	case "GB18030":
		c.whole = simplifiedchinese.GB18030
		return
	case "GBK":
		c.whole = simplifiedchinese.GBK
		return
	}
	number, ok := strings.CutPrefix(term, "ISO_IR ")
	if !ok {
		number, ok = strings.CutPrefix(term, "ISO 2022 IR ")
	}
	set, single := singles[number]
	switch {
	case ok && single:
		if place == 0 {
			c.first = singleHalf(set)
		}
	case ok && number == "13":
		if place == 0 {
			c.first = katakana
		}
	case ok && wideTerms[number].decode != nil:
		if place == 0 && wideTerms[number].right {
			c.first = wideTerms[number].half
		}
	default:
		c.Known = false
	}
}

func singleHalf(set encoding.Encoding) half {
	return half{wide: 1, decode: func(b []byte) string { return decodeWith(set, b) }}
}

// katakana is the right half of JIS X 0201.
var katakana = half{wide: 1, decode: func(b []byte) string {
	var out strings.Builder
	for _, c := range b {
		if c < 0xA1 || c > 0xDF {
			return string(utf8.RuneError)
		}
		out.WriteRune(rune(0xFF61 + int(c) - 0xA1))
	}
	return out.String()
}}

// The two-byte sets. Those designated to the left half come with the high bits
// clear and are lifted into the EUC form that the decoders know.
var (
	jis0208 = half{wide: 2, decode: func(b []byte) string {
		return decodeWith(japanese.EUCJP, lifted(b, nil))
	}}
	jis0212 = half{wide: 2, decode: func(b []byte) string {
		return decodeWith(japanese.EUCJP, lifted(b, []byte{0x8F}))
	}}
	ksx1001 = half{wide: 2, decode: func(b []byte) string { return decodeWith(korean.EUCKR, b) }}
	gb2312  = half{wide: 2, decode: func(b []byte) string { return decodeWith(simplifiedchinese.GBK, b) }}
	ascii   = half{wide: 1, decode: func(b []byte) string { return string(b) }}
)

// lifted sets the high bits of two-byte characters and puts a shift before each.
func lifted(b, shift []byte) []byte {
	out := make([]byte, 0, len(b)+len(b)/2*len(shift))
	for i := 0; i+1 < len(b); i += 2 {
		out = append(append(out, shift...), b[i]|0x80, b[i+1]|0x80)
	}
	return out
}

// escapes are the designations of PS3.3 Tables C.12-3 and C.12-4 by what follows
// ESC: right tells which half they set.
var escapes = []struct {
	code  string
	right bool
	set   half
}{
	{"(B", false, ascii}, {"(J", false, ascii},
	{")I", true, katakana},
	{"$B", false, jis0208}, {"$(D", false, jis0212},
	{"$)C", true, ksx1001}, {"$)A", true, gb2312},
	{"-A", true, singleHalf(charmap.ISO8859_1)}, {"-B", true, singleHalf(charmap.ISO8859_2)},
	{"-C", true, singleHalf(charmap.ISO8859_3)}, {"-D", true, singleHalf(charmap.ISO8859_4)},
	{"-L", true, singleHalf(charmap.ISO8859_5)}, {"-G", true, singleHalf(charmap.ISO8859_6)},
	{"-F", true, singleHalf(charmap.ISO8859_7)}, {"-H", true, singleHalf(charmap.ISO8859_8)},
	{"-M", true, singleHalf(charmap.ISO8859_9)}, {"-b", true, singleHalf(charmap.ISO8859_15)},
	{"-T", true, singleHalf(charmap.Windows874)},
}

func decodeWith(set encoding.Encoding, b []byte) string {
	out, err := set.NewDecoder().Bytes(b)
	if err != nil {
		return string(utf8.RuneError)
	}
	return string(out)
}

// Decode returns b as text. ok is false where a byte means nothing in the
// declared set; such text is read as UTF-8 if it is that, else as Latin-1, so
// that nothing is lost.
func (c *Charset) Decode(b []byte) (text string, ok bool) {
	if plain(b) {
		return string(b), true
	}
	if c == nil || !c.Known {
		return undeclared(b), false
	}
	if c.utf8 {
		if utf8.Valid(b) {
			return string(b), true
		}
		return undeclared(b), false
	}
	if c.whole != nil {
		text = decodeWith(c.whole, b)
	} else {
		text = c.escaped(b, lineEnds+`\^=`)
		if strings.ContainsRune(text, utf8.RuneError) {
			text = c.escaped(b, lineEnds)
		}
	}
	if strings.ContainsRune(text, utf8.RuneError) {
		return undeclared(b), false
	}
	return text, true
}

const lineEnds = "\r\n\f"

// escaped decodes text of sets that escapes switch between. The state returns to the
// first set after each line end, and after each delimiter of values and, in names, of
// components and groups (PS3.5 6.1.2.5.3). Outside names ^ and = are characters, and
// in text that is one whole the backslash is: with line ends alone in resets a text is
// read so.
func (c *Charset) escaped(b []byte, resets string) string {
	var out strings.Builder
	left, right := ascii, c.first
	for i := 0; i < len(b); {
		if b[i] == 0x1B {
			n := designate(b[i+1:], &left, &right)
			if n == 0 {
				return string(utf8.RuneError)
			}
			i += 1 + n
			continue
		}
		n := run(b[i:])
		set := left
		switch stretchOf(b[i]) {
		case rightHalf:
			set = right
		case outside:
			set = ascii
		}
		if set.wide == 1 {
			n = untilReset(b[i:i+n], resets)
		}
		if set.decode == nil || n%set.wide != 0 {
			return string(utf8.RuneError)
		}
		out.WriteString(set.decode(b[i : i+n]))
		if set.wide == 1 && strings.IndexByte(resets, b[i+n-1]) >= 0 {
			left, right = ascii, c.first
		}
		i += n
	}
	return out.String()
}

// stretch tells which set a byte belongs to.
type stretch int

const (
	leftHalf stretch = iota
	rightHalf
	// outside are control characters and space, which stand outside every set.
	outside
	escape
)

func stretchOf(b byte) stretch {
	switch {
	case b == 0x1B:
		return escape
	case b >= 0x80:
		return rightHalf
	case b < 0x21:
		return outside
	}
	return leftHalf
}

// run is how many bytes at the start of b belong to one set.
func run(b []byte) int {
	n := 1
	for n < len(b) && stretchOf(b[n]) == stretchOf(b[0]) {
		n++
	}
	return n
}

// untilReset is how many bytes reach up to the first of resets, with it.
func untilReset(b []byte, resets string) int {
	if i := bytes.IndexAny(b, resets); i >= 0 {
		return i + 1
	}
	return len(b)
}

// designate reads one escape sequence after ESC and sets the half it names. It
// returns its length, 0 where it is none of the standard's.
func designate(b []byte, left, right *half) int {
	for _, e := range escapes {
		if len(b) >= len(e.code) && string(b[:len(e.code)]) == e.code {
			if e.right {
				*right = e.set
			} else {
				*left = e.set
			}
			return len(e.code)
		}
	}
	return 0
}

// plain tells that b is ASCII without escapes, which reads the same everywhere.
func plain(b []byte) bool {
	for _, c := range b {
		if c >= 0x80 || c == 0x1B {
			return false
		}
	}
	return true
}

func undeclared(b []byte) string {
	if utf8.Valid(b) {
		return string(b)
	}
	return decodeWith(charmap.ISO8859_1, b)
}
