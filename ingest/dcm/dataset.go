package dcm

import (
	"bytes"
	"encoding/binary"
	"math"
	"strconv"
	"strings"
)

// Tag is a data element tag, group in the high and element in the low 16 bits.
type Tag uint32

// Group is the high half of the tag.
func (t Tag) Group() uint16 { return uint16(t >> 16) }

// String writes the tag as (gggg,eeee), upper case hexadecimal.
func (t Tag) String() string {
	const digits = "0123456789ABCDEF"
	b := []byte("(0000,0000)")
	for i, pos := range []int{1, 2, 3, 4, 6, 7, 8, 9} {
		b[pos] = digits[(t>>(28-4*i))&0xF]
	}
	return string(b)
}

// VR is a value representation, its two letters in reading order.
type VR [2]byte

// Is compares with the two letters of s.
func (v VR) Is(s string) bool { return len(s) == 2 && v[0] == s[0] && v[1] == s[1] }

// Element is one wanted data element.
//
// Value is the raw value in the byte order of the data set, nil for sequences.
// Offset is where its tag stands in the file, or in the inflated stream of a
// deflated file.
type Element struct {
	Tag    Tag
	VR     VR
	Value  []byte
	Items  []Dataset
	Offset int64
}

// Dataset holds the wanted elements of a data set or of one sequence item, in
// the order of the file.
type Dataset struct {
	Elements []Element
	shared   *shared
	// big tells that values are big endian. UN sequences are little endian
	// whatever the file is, so it belongs to the item (PS3.5 6.2.2).
	big bool
	// charset is what Specific Character Set says here, inherited by items.
	charset *Charset
	// ascending tells that the tags ascend, as the standard wants them.
	ascending bool
}

// shared is what all items of one file have in common.
type shared struct {
	problems []Problem
	// met counts the problems, those listed already included.
	met   int
	words *repeated
}

// Problem is something in a file that could not be read as the standard wants.
// It names tag and expectation, never a value: values may identify a patient.
type Problem struct {
	Tag      Tag
	Offset   int64
	Expected string
}

// Problems lists what was found unreadable so far, in the order of discovery.
// Values are decoded when asked for, so ask after decoding.
func (d *Dataset) Problems() []Problem {
	if d.shared == nil {
		return nil
	}
	return d.shared.problems
}

// ProblemsMet counts the problems so far. One that was met before in another place
// of the file counts too, though Problems lists it once.
func (d *Dataset) ProblemsMet() int {
	if d.shared == nil {
		return 0
	}
	return d.shared.met
}

func (d *Dataset) problem(e *Element, expected string) {
	if d.shared == nil {
		return
	}
	d.shared.met++
	for _, p := range d.shared.problems {
		if p.Tag == e.Tag && p.Expected == expected {
			return
		}
	}
	d.shared.problems = append(d.shared.problems, Problem{Tag: e.Tag, Offset: e.Offset, Expected: expected})
}

// Find returns the first element with this tag, nil where there is none.
func (d *Dataset) Find(tag Tag) *Element {
	if d.ascending {
		return d.search(tag)
	}
	for i := range d.Elements {
		if d.Elements[i].Tag == tag {
			return &d.Elements[i]
		}
	}
	return nil
}

// search finds the first element of tag by halving.
func (d *Dataset) search(tag Tag) *Element {
	low, high := 0, len(d.Elements)
	for low < high {
		if mid := int(uint(low+high) / 2); d.Elements[mid].Tag < tag {
			low = mid + 1
		} else {
			high = mid
		}
	}
	if low < len(d.Elements) && d.Elements[low].Tag == tag {
		return &d.Elements[low]
	}
	return nil
}

// Has tells whether the element is there, with or without a value.
func (d *Dataset) Has(tag Tag) bool { return d.Find(tag) != nil }

// Items returns the items of the sequence at tag, nil where there is none.
func (d *Dataset) Items(tag Tag) []Dataset {
	if e := d.Find(tag); e != nil {
		return e.Items
	}
	return nil
}

// ItemsAtMost returns the items of the sequence at tag, none where they are more
// than a limit.
func (d *Dataset) ItemsAtMost(tag Tag, limit int) []Dataset {
	e := d.Find(tag)
	switch {
	case e == nil:
		return nil
	case len(e.Items) > limit:
		d.problem(e, "at most "+strconv.Itoa(limit)+" items")
		return nil
	}
	return e.Items
}

// String returns the first value as text, decoded and trimmed; empty where absent.
func (d *Dataset) String(tag Tag) string {
	first := d.First(tag)
	if len(first) == 0 {
		return ""
	}
	return d.text(first)
}

// First is String in bytes, which are valid as long as the data set is: for what is
// not kept, or differs from file to file, so that looking for its like is in vain.
func (d *Dataset) First(tag Tag) []byte {
	e := d.Find(tag)
	if e == nil || len(e.Value) == 0 || d.tooMuch(e) {
		return nil
	}
	if plain(e.Value) {
		first, _, _ := bytes.Cut(e.Value, backslash)
		return trimmed(first)
	}
	first, _, _ := strings.Cut(d.decode(e), `\`)
	return []byte(strings.Trim(first, padding))
}

// text makes a string of plain bytes.
func (d *Dataset) text(b []byte) string {
	if d.shared == nil {
		return string(b)
	}
	return d.shared.words.text(b)
}

var backslash = []byte{'\\'}

// padding is what stands around values: by the standard blanks, a null byte behind
// UIDs, and in real files line ends.
const padding = " \x00\t\r\n"

// trimmed is bytes.Trim, which makes a set of the padding at every call.
func trimmed(b []byte) []byte {
	for len(b) > 0 && isPadding(b[0]) {
		b = b[1:]
	}
	for len(b) > 0 && isPadding(b[len(b)-1]) {
		b = b[:len(b)-1]
	}
	return b
}

func isPadding(c byte) bool { return strings.IndexByte(padding, c) >= 0 }

// Text returns the whole value as text without splitting at backslashes: for ST,
// LT and UT, where a backslash is a character. Line breaks stay, padding goes.
func (d *Dataset) Text(tag Tag) string {
	e := d.Find(tag)
	if e == nil || len(e.Value) == 0 || d.tooMuch(e) {
		return ""
	}
	return strings.TrimRight(d.decode(e), " \x00")
}

// Strings returns all values as text, decoded first and split at backslashes
// after (in some character sets a backslash byte is half a character, PS3.5 6.1.2.3).
// None are returned of an element that holds more than maxValues or maxText.
func (d *Dataset) Strings(tag Tag) []string {
	e := d.Find(tag)
	if e == nil || len(e.Value) == 0 || d.tooMuch(e) {
		return nil
	}
	if plain(e.Value) {
		values := make([]string, 0, 1+bytes.Count(e.Value, backslash))
		for v := range bytes.SplitSeq(e.Value, backslash) {
			values = append(values, d.text(trimmed(v)))
		}
		return values
	}
	values := strings.Split(d.decode(e), `\`)
	for i, v := range values {
		values[i] = strings.Trim(v, padding)
	}
	return values
}

// Bounds of one text element. Each of its values takes sixteen times the byte that
// ends it, and text is held in several forms. Lists of times, the longest there are,
// have some thousand values; a page of text has some thousand bytes.
const (
	maxValues = 1 << 18
	maxText   = 1 << 20
)

// tooMuch tells that a text element holds more than is made text or numbers of.
func (d *Dataset) tooMuch(e *Element) bool {
	switch {
	case len(e.Value) > maxText:
		d.problem(e, "at most "+strconv.Itoa(maxText)+" bytes of text")
	case len(e.Value) >= maxValues && bytes.Count(e.Value, backslash) >= maxValues:
		d.problem(e, "at most "+strconv.Itoa(maxValues)+" values")
	default:
		return false
	}
	return true
}

func (d *Dataset) decode(e *Element) string {
	text, ok := d.charset.Decode(e.Value)
	if !ok {
		d.problem(e, "text in the declared character set")
	}
	return text
}

// Int returns the first value as an integer, from IS, DS holding a whole number,
// US, SS, UL or SL. Absent where there is none or it is not a number.
func (d *Dataset) Int(tag Tag) Optional[int64] {
	v, ok := d.Float(tag).Get()
	if !ok {
		return Optional[int64]{}
	}
	if v != math.Trunc(v) || math.Abs(v) > 1<<53 {
		d.problem(d.Find(tag), "a whole number")
		return Optional[int64]{}
	}
	return Some(int64(v))
}

// Ints returns all values as whole numbers. One that is none makes the whole element
// unreadable, as in Floats.
func (d *Dataset) Ints(tag Tag) []int {
	var out []int
	for _, v := range d.Floats(tag) {
		if v != math.Trunc(v) || math.Abs(v) > math.MaxInt32 {
			d.problem(d.Find(tag), "whole numbers")
			return nil
		}
		out = append(out, int(v))
	}
	return out
}

// Float returns the first value as a finite number, from text (DS, IS) or binary
// (US, SS, UL, SL, FL, FD). Absent where there is none or it is not a finite number.
func (d *Dataset) Float(tag Tag) Optional[float64] {
	var few [4]float64
	if values := d.appendFloats(few[:0], tag); len(values) > 0 {
		return Some(values[0])
	}
	return Optional[float64]{}
}

// Floats returns all values as finite numbers. One value that is not a finite
// number makes the whole element unreadable: a list with a hole would shift its
// places.
func (d *Dataset) Floats(tag Tag) []float64 { return d.appendFloats(nil, tag) }

func (d *Dataset) appendFloats(out []float64, tag Tag) []float64 {
	e := d.Find(tag)
	if e == nil || len(e.Value) == 0 {
		return nil
	}
	if width := numberWidth(e.VR); width > 0 {
		return d.binaryFloats(out, e, width)
	}
	return d.textFloats(out, e)
}

func (d *Dataset) textFloats(out []float64, e *Element) []float64 {
	if len(bytes.Trim(e.Value, " \x00")) == 0 || d.tooMuch(e) {
		return nil
	}
	for part := range bytes.SplitSeq(e.Value, backslash) {
		v, err := strconv.ParseFloat(string(bytes.Trim(part, " \x00")), 64)
		if err != nil || math.IsNaN(v) || math.IsInf(v, 0) || bytes.ContainsAny(part, "xXpP_") {
			d.problem(e, "a decimal number")
			return nil
		}
		out = append(out, v)
	}
	return out
}

func (d *Dataset) binaryFloats(out []float64, e *Element, width int) []float64 {
	if len(e.Value)%width != 0 {
		d.problem(e, "a value length that is a multiple of "+strconv.Itoa(width)+" bytes")
		return nil
	}
	for at := 0; at < len(e.Value); at += width {
		v := d.number(e.VR, e.Value[at:at+width])
		if math.IsNaN(v) || math.IsInf(v, 0) {
			d.problem(e, "a finite number")
			return nil
		}
		out = append(out, v)
	}
	return out
}

// numberWidth is the size in bytes of one value of a binary VR, 0 for others.
func numberWidth(vr VR) int {
	switch string(vr[:]) {
	case "US", "SS":
		return 2
	case "UL", "SL", "FL":
		return 4
	case "FD", "UV", "SV":
		return 8
	}
	return 0
}

func (d *Dataset) number(vr VR, b []byte) float64 {
	var order binary.ByteOrder = binary.LittleEndian
	if d.big {
		order = binary.BigEndian
	}
	switch string(vr[:]) {
	case "US":
		return float64(order.Uint16(b))
	case "SS":
		return float64(int16(order.Uint16(b)))
	case "UL":
		return float64(order.Uint32(b))
	case "SL":
		return float64(int32(order.Uint32(b)))
	case "FL":
		return float64(math.Float32frombits(order.Uint32(b)))
	case "UV":
		return float64(order.Uint64(b))
	case "SV":
		return float64(int64(order.Uint64(b)))
	}
	return math.Float64frombits(order.Uint64(b))
}

// Tags reads an AT value: tags in the byte order of the data set.
func (d *Dataset) Tags(tag Tag) []Tag {
	e := d.Find(tag)
	if e == nil {
		return nil
	}
	var order binary.ByteOrder = binary.LittleEndian
	if d.big {
		order = binary.BigEndian
	}
	var out []Tag
	for at := 0; at+4 <= len(e.Value); at += 4 {
		out = append(out, Tag(order.Uint16(e.Value[at:]))<<16|Tag(order.Uint16(e.Value[at+2:])))
	}
	return out
}

// Part is the data set with only these of its elements, in their order: values
// read as in the whole, problems are noted with it.
func (d *Dataset) Part(elements []Element) Dataset {
	part := *d
	part.Elements = elements
	return part
}

// AppendContent appends to b what decides how every value of d reads: tags, VRs,
// values and items, byte order and character set; not where they stand in the
// file. Equal content makes equal bytes, different content different ones.
func (d *Dataset) AppendContent(b []byte) []byte {
	b = append(b, boolByte(d.big))
	b = append(b, boolByte(d.charset != nil))
	if d.charset != nil {
		b = binary.LittleEndian.AppendUint32(b, uint32(len(d.charset.Declared)))
		for _, term := range d.charset.Declared {
			b = binary.LittleEndian.AppendUint32(b, uint32(len(term)))
			b = append(b, term...)
		}
	}
	b = binary.LittleEndian.AppendUint32(b, uint32(len(d.Elements)))
	for i := range d.Elements {
		e := &d.Elements[i]
		b = binary.LittleEndian.AppendUint32(b, uint32(e.Tag))
		b = append(b, e.VR[0], e.VR[1])
		b = binary.LittleEndian.AppendUint32(b, uint32(len(e.Value)))
		b = append(b, e.Value...)
		b = binary.LittleEndian.AppendUint32(b, uint32(len(e.Items)))
		for k := range e.Items {
			b = e.Items[k].AppendContent(b)
		}
	}
	return b
}

func boolByte(v bool) byte {
	if v {
		return 1
	}
	return 0
}
