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
