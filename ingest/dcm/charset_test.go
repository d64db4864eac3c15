package dcm

import (
	"slices"
	"strings"
	"testing"
)

// TestCharsets takes the worked examples of PS3.5 Annexes H, I, J and K (the last from
// memory; a real file holds the same bytes), and one for each rule of escapes.
func TestCharsets(t *testing.T) {
	for _, c := range []struct {
		name  string
		terms []string
		bytes string
		want  string
	}{
		{"H.3.1", []string{"", "ISO 2022 IR 87"},
			"Yamada^Tarou=\x1b$B;3ED\x1b(B^\x1b$BB@O:\x1b(B=\x1b$B$d$^$@\x1b(B^\x1b$B$?$m$&\x1b(B",
			"Yamada^Tarou=山田^太郎=やまだ^たろう"},
		{"H.3.2", []string{"ISO 2022 IR 13", "ISO 2022 IR 87"},
			"\xd4\xcf\xc0\xde^\xc0\xdb\xb3=\x1b$B;3ED\x1b(J^\x1b$BB@O:\x1b(J=\x1b$B$d$^$@\x1b(J^\x1b$B$?$m$&\x1b(J",
			"ﾔﾏﾀﾞ^ﾀﾛｳ=山田^太郎=やまだ^たろう"},
		{"I.2", []string{"", "ISO 2022 IR 149"},
			"Hong^Gildong=\x1b$)C\xfb\xf3^\x1b$)C\xd1\xce\xd4\xd7=\x1b$)C\xc8\xab^\x1b$)C\xb1\xe6\xb5\xbf",
			"Hong^Gildong=洪^吉洞=홍^길동"},
		{"J.1", []string{"ISO_IR 192"}, "Wang^XiaoDong=王^小东=", "Wang^XiaoDong=王^小东="},
		{"J.2", []string{"GB18030"}, "Wang^XiaoDong=\xcd\xf5^\xd0\xa1\xb6\xab=", "Wang^XiaoDong=王^小东="},
		{"J, GBK", []string{"GBK"}, "Wang^XiaoDong=\xcd\xf5^\xd0\xa1\xb6\xab=", "Wang^XiaoDong=王^小东="},
		{"K.2", []string{"", "ISO 2022 IR 58"},
			"Zhang^XiaoDong=\x1b$)A\xd5\xc5^\x1b$)A\xd0\xa1\xb6\xab=", "Zhang^XiaoDong=张^小东="},
		{"JIS X 0212", []string{"", "ISO 2022 IR 87", "ISO 2022 IR 159"}, "\x1b$(D\x30\x21\x1b(B", "丂"},
		{"Latin-1 and Korean", []string{"ISO 2022 IR 100", "ISO 2022 IR 149"},
			"M\xfcll^\x1b$)C\xb1\xe8^M\xfcll", "Müll^김^Müll"},
		{"an escape holds to the line's end", []string{"", "ISO 2022 IR 149"},
			"a\x1b$)C\xb1\xe8\r\nb\x1b$)C\xb1\xe8", "a김\r\nb김"},
		{"= is a character outside names", []string{"", "ISO 2022 IR 149"},
			"\x1b$)C\xbd\xc9\xb9\xda\xbc\xf6=\xc1\xa4\xbb\xf3", "심박수=정상"},
		{"^ is a character outside names", []string{"", "ISO 2022 IR 58"}, "\x1b$)A\xd5\xfd\xb3\xa3^\xd6\xb5", "正常^值"},
		{"Korean declared first, no escape", []string{"ISO 2022 IR 149"}, "\xb1\xe8", "김"},
		{"GB 2312 declared first, no escape", []string{"ISO 2022 IR 58"}, "\xd5\xc5", "张"},
		{"Latin-1", []string{"ISO_IR 100"}, "M\xfcller", "Müller"},
		{"Cyrillic", []string{"ISO_IR 144"}, "\xbb\xee\xda", "Люк"},
		{"none declared, ASCII", nil, "plain", "plain"},
	} {
		var set *Charset
		if c.terms != nil {
			set = NewCharset(c.terms)
		}
		if got, ok := set.Decode([]byte(c.bytes)); got != c.want || !ok {
			t.Errorf("%s: %q, %v, want %q", c.name, got, ok, c.want)
		}
	}
}

// TestSingleByteSets reads a word in each set of PS3.3 Tables C.12-2 and C.12-3: alone,
// as the first of several, and after its escape. Bytes are those of the ISO 8859 parts,
// TIS 620 and JIS X 0201; charsets.py compares every one of them.
func TestSingleByteSets(t *testing.T) {
	for _, c := range []struct{ number, escape, bytes, want string }{
		{"100", "-A", "No\xebl", "Noël"},
		{"101", "-B", "\xa3\xf3d\xbc", "Łódź"},
		{"109", "-C", "\xe6evalo", "ĉevalo"},
		{"110", "-D", "R\xefga", "Rīga"},
		{"144", "-L", "\xe1\xd5\xe0\xd4\xe6\xd5", "сердце"},
		{"127", "-G", "\xd3\xe4\xc7\xe5", "سلام"},
		{"126", "-F", "\xea\xe1\xf1\xe4\xe9\xdc", "καρδιά"},
		{"138", "-H", "\xec\xe1", "לב"},
		{"148", "-M", "ya\xf0", "yağ"},
		{"203", "-b", "c\xbdur", "cœur"},
		{"166", "-T", "\xcb\xd1\xc7\xe3\xa8", "หัวใจ"},
		{"13", ")I", "\xbc\xdd", "ｼﾝ"},
	} {
		for bytes, terms := range map[string][]string{
			c.bytes:                              {"ISO_IR " + c.number},
			c.bytes + " ":                        {"ISO 2022 IR " + c.number, "ISO 2022 IR 87"},
			"\x1b" + c.escape + c.bytes:          {"", "ISO 2022 IR " + c.number},
			"a^\x1b" + c.escape + c.bytes + "^b": {"ISO 2022 IR 6", "ISO 2022 IR " + c.number},
		} {
			want := c.want
			if strings.HasPrefix(bytes, "a^") {
				want = "a^" + c.want + "^b"
			}
			if got, ok := NewCharset(terms).Decode([]byte(bytes)); strings.TrimRight(got, " ") != want || !ok {
				t.Errorf("%q: %q, %v, want %q", terms, got, ok, want)
			}
		}
	}
}

// TestCharsetSplit: a backslash byte that is half a character parts no values.
func TestCharsetSplit(t *testing.T) {
	for _, c := range []struct {
		term, bytes string
		want        []string
	}{
		{"GBK", "\x81\x5cA\\B", []string{"乗A", "B"}},
		{"GB18030", "\x81\x5c\\\xcd\xf5", []string{"乗", "王"}},
		{`\ISO 2022 IR 87`, "\x1b$B;3\x1b(B\\\x1b$B;3ED\x1b(B", []string{"山", "山田"}},
		{`\ISO 2022 IR 149`, "\x1b$)C\xb1\xe8\\\x1b$)C\xb1\xe8", []string{"김", "김"}},
	} {
		e := &enc{}
		e.text(SpecificCharacterSet, "CS", c.term)
		e.raw(OperatorsName, "PN", c.bytes)
		f, err := scan(e.Bytes())
		if got := f.Data.Strings(OperatorsName); err != nil || !slices.Equal(got, c.want) || len(f.Data.Problems()) > 0 {
			t.Errorf("%s: %q, want %q, noted %v, %v", c.term, got, c.want, f.Data.Problems(), err)
		}
	}
}

// TestCharsetUnknown keeps a term that is none of the standard's, and notes it.
func TestCharsetUnknown(t *testing.T) {
	e := &enc{}
	e.text(SpecificCharacterSet, "CS", "ISO-IR 100")
	e.text(PatientID, "LO", "M\xfcll")
	f, err := scan(e.Bytes())
	if err != nil || f.Data.String(SpecificCharacterSet) != "ISO-IR 100" || f.Data.String(PatientID) != "Müll" {
		t.Errorf("term %q, text %q, %v", f.Data.String(SpecificCharacterSet), f.Data.String(PatientID), err)
	}
	if p := f.Data.Problems(); len(p) != 2 || p[0].Tag != SpecificCharacterSet || p[1].Tag != PatientID {
		t.Errorf("noted %v", p)
	}
}

// TestCharsetsUndeclared keeps text that the declared set cannot mean, and flags it.
func TestCharsetsUndeclared(t *testing.T) {
	for _, c := range []struct {
		terms       []string
		bytes, want string
	}{
		{nil, "M\xfcller", "Müller"},
		{nil, "Müller", "Müller"},
		{[]string{"ISO_IR 9999"}, "M\xfcller", "Müller"},
		{[]string{"ISO_IR 192"}, "M\xfcller", "Müller"},
		{[]string{"", "ISO 2022 IR 87"}, "\x1b$B;", "\x1b$B;"},
		{[]string{""}, "\x1b", "\x1b"},
		{[]string{"ISO_IR 126"}, "\xae", "®"}, // a hole in the Greek set
		{[]string{"GB18030"}, "\x81", "\u0081"},
		{[]string{"", "ISO 2022 IR 149"}, "\xb1\xe8", "±è"}, // no escape before it
	} {
		if got, ok := NewCharset(c.terms).Decode([]byte(c.bytes)); got != c.want || ok {
			t.Errorf("%q under %q: %q, %v", c.bytes, c.terms, got, ok)
		}
	}
}

func TestTagString(t *testing.T) {
	if got := PhysicalDeltaX.String(); got != "(0018,602C)" {
		t.Error(got)
	}
}
