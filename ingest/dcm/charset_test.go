package dcm

import "testing"

// TestCharsets takes the worked examples of PS3.5 Annexes H, I and J.
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
