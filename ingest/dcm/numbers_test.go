package dcm

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// wrongNumber is a value that is not the number its element should hold, or is one
// in a form that must be read.
type wrongNumber struct {
	name, vr, value string
	// values is how many numbers must be read of it, 0 for none; problem tells that
	// one must be noted.
	values  int
	problem bool
}

// wrongNumbers are tried in every numeric element. The VR is what the file says,
// whatever the dictionary says.
var wrongNumbers = []wrongNumber{
	{"letters", "DS", "abc ", 0, true},
	{"inner blanks", "IS", "1 2 ", 0, true},
	{"not a number", "DS", "NaN ", 0, true},
	{"infinity", "DS", "Inf ", 0, true},
	{"minus infinity", "DS", "-Infinity ", 0, true},
	{"too large", "DS", "1e400 ", 0, true},
	{"decimal comma", "DS", "1,5 ", 0, true},
	{"hexadecimal", "DS", "0x1F", 0, true},
	{"hexadecimal fraction", "DS", "0x1p-2", 0, true},
	{"underscores", "IS", "1_000 ", 0, true},
	{"separators only", "DS", `\\\\`, 0, true},
	{"one bad among good", "DS", `1.5\abc\2.5 `, 0, true},
	{"a date", "DA", "2026.09.01", 0, true},
	{"a long text", "UT", strings.Repeat("x", 40_000), 0, true},
	{"binary where text is meant", "LO", "\x00\x01\xFF\xFE", 0, true},
	{"three bytes", "US", "\x01\x00\x01", 0, true},
	{"five bytes", "UL", "\x01\x00\x00\x00\x01", 0, true},
	{"seven bytes", "FD", "1234567", 0, true},
	{"four bytes of a double", "FD", "\x00\x00\x80\x3F", 0, true},
	{"binary not a number", "FD", "\x00\x00\x00\x00\x00\x00\xF8\x7F", 0, true},
	{"binary infinity", "FD", "\x00\x00\x00\x00\x00\x00\xF0\x7F", 0, true},
	{"single not a number", "FL", "\x00\x00\xC0\x7F", 0, true},
	{"single infinity", "FL", "\x00\x00\x80\xFF", 0, true},
	{"a sequence", "SQ", "\xFE\xFF\x00\xE0\x00\x00\x00\x00", 0, true},
	{"fragments", "OB", "", 0, true},
	{"nothing", "DS", "", 0, false},
	{"blanks", "DS", "  \x00 ", 0, false},
	{"ends in a null byte", "DS", "1.5\x00", 1, false},
	{"more digits than a double holds", "DS", "0.12345678901234567890", 1, false},
	{"leading zeros and plus", "IS", "+0007 ", 1, false},
	{"largest", "DS", "1.7976931348623157e308", 1, false},
	{"smallest", "DS", "5e-324", 1, false},
	{"more than a whole number holds", "IS", "123456789012345678901234567890", 1, false},
	{"unsigned of eight bytes", "UV", "\xFF\xFF\xFF\xFF\xFF\xFF\xFF\xFF", 1, false},
}

// numericVRs are the VRs of numbers (PS3.5 6.2).
const numericVRs = "DS IS US SS UL SL FL FD UV SV"

// TestNumbersOfEveryWrongKind writes every wrong kind into every numeric element
// that is read. What is made of it is absent or finite, what is wrong is noted, and
// the elements before and behind are as they were.
func TestNumbersOfEveryWrongKind(t *testing.T) {
	tags := 0
	for tag, vr := range wanted {
		if !strings.Contains(numericVRs, string(vr[:])) || tag == Rows {
			continue
		}
		tags++
		for _, w := range wrongNumbers {
			if fault := w.tryIn(tag); fault != "" {
				t.Errorf("%s of %s holding %s: %s", tag, vr[:], w.name, fault)
			}
		}
	}
	if tags < 90 {
		t.Errorf("%d numeric elements: the list of wanted tags is not what it was", tags)
	}
}

// tryIn writes the value at tag and says what is not as it should be.
func (w wrongNumber) tryIn(tag Tag) string {
	e := &enc{}
	e.text(SOPClassUID, "UI", "1.2.3")
	if w.vr == "OB" {
		e.head(tag, w.vr, undefinedLength)
		e.endSequence()
	} else {
		e.raw(tag, w.vr, w.value)
	}
	e.us(Rows, 7)
	f, err := scan(e.Bytes())
	if err != nil {
		return err.Error()
	}
	d := &f.Data
	floats, ints := d.Floats(tag), d.Ints(tag)
	first, whole := d.Float(tag), d.Int(tag)
	problems := d.Problems()
	for _, v := range append(floats, first.Value, float64(whole.Value)) {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return "a number that is not finite"
		}
	}
	switch {
	case len(floats) != w.values || first.Set != (w.values > 0):
		return fmt.Sprintf("%d numbers", len(floats))
	case w.values == 0 && (len(ints) > 0 || whole.Set):
		return "a whole number and no number"
	case w.problem && (len(problems) != 1 || problems[0].Tag != tag || problems[0].Expected == ""):
		return fmt.Sprintf("problems %v", problems)
	case whole.Set && float64(whole.Value) != first.Value:
		return "a whole number that is another than the number"
	case w.values > 0 && !whole.Set && len(problems) == 0:
		return "a number that is not whole was not noted"
	case d.String(SOPClassUID) != "1.2.3" || d.Int(Rows) != Some(int64(7)):
		return "another element was touched"
	}
	return ""
}
