package terms

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/cases"
	"golang.org/x/text/unicode/norm"
)

// Normal brings a label into the form in which labels are compared: case folded
// (so ß is ss), accents dropped, every run of anything but letters, digits, per
// cent signs and primes turned into one blank. "LA:Ao" and "la/ao" become equal;
// "e" and "e'" stay apart, for they are different waves.
func Normal(label string) string {
	if !IsASCII(label) { // ASCII is folded as it is compared; nearly all labels are
		label = cases.Fold().String(norm.NFKD.String(ligatures.Replace(label)))
	}
	return words(label)
}

// IsASCII tells text that no other characters stand in.
func IsASCII(s string) bool {
	for i := 0; i < len(s); i++ {
		if s[i] >= utf8.RuneSelf {
			return false
		}
	}
	return true
}

// words is Normal of a label without ligatures whose other letters than A to Z are
// folded and decomposed.
func words(label string) string {
	b := make([]byte, 0, len(label))
	gap := false
	for _, r := range label {
		switch {
		case 'a' <= r && r <= 'z', '0' <= r && r <= '9', r == '%', r == '\'':
		case 'A' <= r && r <= 'Z':
			r += 'a' - 'A'
		case r >= utf8.RuneSelf && unicode.Is(unicode.Mn, r):
			continue
		case r < utf8.RuneSelf, !unicode.IsLetter(r) && !unicode.IsDigit(r):
			gap = true
			continue
		}
		if gap && len(b) > 0 {
			b = append(b, ' ')
		}
		gap = false
		b = utf8.AppendRune(b, r)
	}
	return string(b)
}

// ligatures are the letters and signs that compatibility decomposition leaves.
var ligatures = strings.NewReplacer("œ", "oe", "Œ", "oe", "æ", "ae", "Æ", "ae", "′", "'", "’", "'", "´", "'")

// Contains tells whether the normal form of text holds term as whole words. A
// term that ends in * also fits longer words.
func Contains(text, term string) bool {
	stem, open := strings.CutSuffix(term, "*")
	needle := Normal(stem)
	return needle != "" && holds(Normal(text), needle, open)
}

// holds tells that needle stands in hay from the beginning of a word to the end of
// one, or, where it is open, to any letter.
func holds(hay, needle string, open bool) bool {
	for from := 0; ; from++ {
		at := strings.Index(hay[from:], needle)
		if at < 0 {
			return false
		}
		from += at
		end := from + len(needle)
		if (from == 0 || hay[from-1] == ' ') && (open || end == len(hay) || hay[end] == ' ') {
			return true
		}
	}
}

// Fits tells whether the normal form of a label is that of term. A term that ends in
// * fits every label that begins with it.
func Fits(label, term string) bool {
	stem, open := strings.CutSuffix(term, "*")
	want, got := Normal(stem), Normal(label)
	if open {
		return want != "" && strings.HasPrefix(got, want)
	}
	return want != "" && got == want
}
