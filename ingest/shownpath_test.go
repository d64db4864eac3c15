package ingest

import (
	"strconv"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"
)

func TestShownPath(t *testing.T) {
	for path, want := range map[string]string{
		"/archive/a/IM0001":         "/archive/a/IM0001",
		"/a/Müller/心臓 1.dcm":        "/a/Müller/心臓 1.dcm",
		"/a/=cmd|x":                 "/a/=cmd|x", // text in every output, and typed so
		"/a/two\nlines":             `/a/two\x0Alines`,
		"/a/\x1b[31mred":            `/a/\x1B[31mred`,
		"/a/\u009b31m":              `/a/\u009B31m`,
		"/a/\u202emcd.exe":          `/a/\u202Emcd.exe`,
		"/a/\u2028line":             `/a/\u2028line`,
		"/a/\U000E0001tag":          `/a/\U000E0001tag`,
		"/a/latin-\xe9":             `/a/latin-\xE9`,
		"/a/\ufffd":                 "/a/\ufffd",
		`C:\archive\x`:              `C:\archive\x`,
		`/a/\x0A`:                   `/a/\x5Cx0A`,
		`/a/\u202E`:                 `/a/\x5Cu202E`,
		`/a/\\x0A`:                  `/a/\\x5Cx0A`,
		"/a/export.zip!/b\x00/\xff": `/a/export.zip!/b\x00/\xFF`,
		"":                          "",
	} {
		if got := shownPath(path); got != want {
			t.Errorf("%q is shown as %q, expected %q", path, got, want)
		}
	}
}

// FuzzShownPath: what is shown is UTF-8, on one line, of characters that are seen,
// and can be read back, so that no two paths are shown alike.
func FuzzShownPath(f *testing.F) {
	for _, path := range []string{"/a/b", "a\n\x1b\xff\u202e\U000E0001", `\x0A\u202E\\x0A\U000E0001`, `\`, `\x`, "\\\xff\\x\xff"} {
		f.Add(path)
	}
	f.Fuzz(func(t *testing.T, path string) {
		shown := shownPath(path)
		if !utf8.ValidString(shown) || strings.ContainsFunc(shown, func(r rune) bool { return !unicode.IsGraphic(r) }) {
			t.Errorf("%q is shown as %q", path, shown)
		}
		if back := readBack(shown); back != path {
			t.Errorf("%q is shown as %q, which reads as %q", path, shown, back)
		}
	})
}

// readBack is the other way of shownPath.
func readBack(shown string) string {
	var b strings.Builder
	for i := 0; i < len(shown); {
		if shown[i] != '\\' || !readsEscaped(shown[i:]) {
			b.WriteByte(shown[i])
			i++
			continue
		}
		end := i + map[byte]int{'x': 4, 'u': 6, 'U': 10}[shown[i+1]]
		code, err := strconv.ParseUint(shown[i+2:end], 16, 32)
		if err != nil {
			return err.Error()
		}
		if shown[i+1] == 'x' {
			b.WriteByte(byte(code))
		} else {
			b.WriteRune(rune(code))
		}
		i = end
	}
	return b.String()
}
