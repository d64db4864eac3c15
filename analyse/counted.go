package analyse

import "strconv"

// Counted writes a number with its noun.
func Counted(n int, one, many string) string { return strconv.Itoa(n) + " " + Agree(n, one, many) }

// Agree chooses the word that agrees with a number, such as the verb behind it.
func Agree(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}

// CountedOf writes a part of a whole, as Counted names it, with the words that go with
// the part: 1 of 3 images is, 2 of 3 images are.
func CountedOf(n int, whole, one, many string) string {
	return strconv.Itoa(n) + " of " + whole + " " + Agree(n, one, many)
}
