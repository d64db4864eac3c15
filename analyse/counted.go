package analyse

import "fmt"

// Counted writes a number with its noun.
func Counted(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// CountedOf writes a part of a whole, as Counted names it, with the words that go with
// the part: 1 of 3 images is, 2 of 3 images are.
func CountedOf(n int, whole, one, many string) string {
	words := many
	if n == 1 {
		words = one
	}
	return fmt.Sprintf("%d of %s %s", n, whole, words)
}
