package presentation

import (
	"regexp"
	"strconv"
	"strings"

	"leadline/ingest/dcm"
)

// Reading is what a text beside a graphic says: "LVIDd 1.82 cm" has the label
// LVIDd, the value 1.82 and the unit cm. Presentation states code neither
// (PS3.3 C.10.5.1.2), so the words are all there is.
type Reading struct {
	// Label is what is left of the text, its blanks and line ends made single
	// blanks; the whole text where no value was taken. It may hold free text
	// about a patient.
	Label string
	// Value is absent where the text holds no number with a known unit, or more
	// than one number.
	Value dcm.Optional[float64]
	// ValueText is the number as written, which tells its last place, except that
	// a decimal comma and a typographic minus are written as point and hyphen.
	ValueText string
	// DecimalComma tells that the number was written with a comma.
	DecimalComma bool
	// Unit is the UCUM code, UnitText the unit as written.
	Unit, UnitText string
}

// ParseText reads label, value and unit from a text. It guesses nothing: a value
// is taken only where the text holds exactly one number and a known unit follows
// it. Two numbers (a range, two axes, a numbered caliper), a limit (<, >, ±, ~), a
// dash that may be a minus, a number in which point and comma stand together, or
// a comma before exactly three digits (thousands or decimals), leave all of the
// text as label. Words may hold digits: D1, 2D, 4CH, 28w3d.
func ParseText(text string) Reading {
	whole := strings.Join(strings.Fields(text), " ")
	tokens := split(whole)
	at, numbers := -1, 0
	for i, t := range tokens {
		if looksLikeNumber(t) {
			at, numbers = i, numbers+1
		}
	}
	if numbers != 1 || at > 0 && isSign(tokens[at-1]) {
		return Reading{Label: whole}
	}
	r, used, ok := quantity(tokens[at:])
	if !ok {
		return Reading{Label: whole}
	}
	words := append(append([]string(nil), tokens[:at]...), tokens[at+used:]...)
	r.Label = label(words)
	return r
}

var (
	blankSlash = regexp.MustCompile(`\s*/\s*`)
	// digits begins what may be a number: digits, behind a sign or a decimal mark.
	digits = regexp.MustCompile(`^[+-]?[.,]?[0-9]`)
	// decimal is a number and what is glued to it.
	decimal = regexp.MustCompile(`^([+-]?)([0-9]*)([.,]?)([0-9]*)(.*)$`)
	// word is letters behind digits: 2D, 4CH, 28w3d.
	word = regexp.MustCompile(`^[0-9]+\pL`)
)

// split cuts a text into words, numbers and marks. Equal signs and colons are
// marks of their own, brackets and commas at the edge of a word go.
func split(whole string) []string {
	whole = strings.NewReplacer("\u2212", "-", "\u00a0", " ").Replace(whole)
	whole = blankSlash.ReplaceAllString(whole, "/")
	var tokens []string
	for _, field := range strings.Fields(whole) {
		field = strings.ReplaceAll(field, "=", " = ")
		for _, part := range strings.Fields(colons(field)) {
			if part = strings.Trim(part, "()[]{};"); part != "" {
				tokens = append(tokens, strings.TrimRight(part, ","))
			}
		}
	}
	return tokens
}

// colons sets blanks around colons that do not stand between two digits.
func colons(field string) string {
	var b strings.Builder
	for i := 0; i < len(field); i++ {
		clock := i > 0 && i+1 < len(field) && isDigit(field[i-1]) && isDigit(field[i+1])
		if field[i] == ':' && !clock {
			b.WriteString(" : ")
			continue
		}
		b.WriteByte(field[i])
	}
	return b.String()
}

func isDigit(c byte) bool { return '0' <= c && c <= '9' }

func isSign(token string) bool {
	switch token {
	case "-", "\u2013", "\u2014", "+-", "+/-", "\u00b1", "<", ">", "\u2264", "\u2265", "<=", ">=", "~", "\u2248", "ca.", "ca":
		return true
	}
	return false
}

// looksLikeNumber tells tokens that begin with a digit or with a sign or limit in
// front of one, whether or not they can be read; words that begin with digits are
// none, unless the letters are a unit.
func looksLikeNumber(token string) bool {
	bare := strings.TrimLeft(token, "<>~=\u2264\u2265\u2248\u00b1\u2013\u2014#")
	if !digits.MatchString(bare) {
		return false
	}
	if word.MatchString(bare) {
		_, known := units[unitKey(strings.TrimLeft(bare, "0123456789"))]
		return known
	}
	return true
}

// quantity reads the number that tokens begin with, and its unit, glued to it or
// next. used is how many tokens they took.
func quantity(tokens []string) (r Reading, used int, ok bool) {
	m := decimal.FindStringSubmatch(tokens[0])
	sign, whole, mark, part, rest := m[1], m[2], m[3], m[4], m[5]
	thousands := mark == "," && len(part) == 3 && whole != "" && strings.Trim(whole, "0") != "" && len(whole) <= 3
	if whole == "" && part == "" || mark != "" && part == "" || thousands {
		return r, 0, false
	}
	used = 1
	if rest == "" && len(tokens) > 1 {
		rest, used = tokens[1], 2
	}
	unit, known := units[unitKey(rest)]
	if !known {
		return r, 0, false
	}
	r = Reading{ValueText: sign + whole, DecimalComma: mark == ",", Unit: unit, UnitText: rest}
	if mark != "" {
		r.ValueText += "." + part
	}
	v, err := strconv.ParseFloat(r.ValueText, 64)
	if err != nil {
		return Reading{}, 0, false
	}
	r.Value = dcm.Some(v)
	return r, used, true
}

// label joins the words around a number; marks that led to it go.
func label(words []string) string {
	var kept []string
	for _, w := range words {
		if w != ":" && w != "=" {
			kept = append(kept, w)
		}
	}
	return strings.Join(kept, " ")
}
