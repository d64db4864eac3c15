package ingest

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// shownPath writes a path as the ledger does: as text of one line that can be put on
// a terminal, into a table and into a message. This is the one home of the rule;
// reading goes by the path as the system gives it.
//
// Bytes that are not UTF-8 and characters that are seen by nobody or steer a terminal
// (control and format characters, line separators, unassigned ones) are written in
// hexadecimal, \x1B for a byte or \u202E for a character. A backslash before what reads
// like this is written \x5C, so that two different paths are never shown alike.
func shownPath(path string) string {
	if plainPath(path) {
		return path
	}
	var b strings.Builder
	for i := 0; i < len(path); {
		r, n := utf8.DecodeRuneInString(path[i:])
		switch {
		case r == utf8.RuneError && n == 1, r < utf8.RuneSelf && !unicode.IsGraphic(r), r == '\\' && readsEscaped(path[i:]):
			fmt.Fprintf(&b, `\x%02X`, path[i])
		case unicode.IsGraphic(r):
			b.WriteString(path[i : i+n])
		case r <= 0xFFFF:
			fmt.Fprintf(&b, `\u%04X`, r)
		default:
			fmt.Fprintf(&b, `\U%08X`, r)
		}
		i += n
	}
	return b.String()
}

// plainPath tells a path of printable ASCII without a backslash, as nearly all are.
func plainPath(path string) bool {
	for i := 0; i < len(path); i++ {
		if c := path[i]; c < ' ' || c > '~' || c == '\\' {
			return false
		}
	}
	return true
}

// readsEscaped tells that s begins as an escape of shownPath does.
func readsEscaped(s string) bool {
	if len(s) < 2 {
		return false
	}
	digits := map[byte]int{'x': 2, 'u': 4, 'U': 8}[s[1]]
	if digits == 0 || len(s) < 2+digits {
		return false
	}
	return strings.Trim(s[2:2+digits], "0123456789ABCDEF") == ""
}
