package physical

import (
	"math"
	"strconv"
	"strings"
)

// LastPlace is the value of one step in the last digit of a number as it is
// written: 0.01 for "1.06", 1 for "30", 1 for "1.2E1". Zeros at the end count as
// written. Blanks around the number are left out. It is false where the text is
// no decimal number as DICOM writes it (PS3.5 6.2, DS).
func LastPlace(text string) (float64, bool) {
	text = strings.TrimSpace(text)
	mantissa, exponent := text, 0
	if i := strings.IndexAny(text, "eE"); i >= 0 {
		e, err := strconv.Atoi(strings.TrimPrefix(text[i+1:], "+"))
		if err != nil {
			return 0, false
		}
		mantissa, exponent = text[:i], e
	}
	if mantissa != "" && (mantissa[0] == '+' || mantissa[0] == '-') {
		mantissa = mantissa[1:]
	}
	whole, fraction, _ := strings.Cut(mantissa, ".")
	if whole+fraction == "" || strings.Trim(whole+fraction, "0123456789") != "" {
		return 0, false
	}
	place := math.Pow10(exponent - len(fraction))
	return place, place > 0 && finite(place)
}
