package terms

import "strings"

// Person makes the ways of writing one name equal: case, the component signs of PN
// (PS3.5 6.2.1) and blanks do not tell people apart.
func Person(name string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(name), func(c rune) bool {
		return c == '^' || c == ' ' || c == '='
	}), " ")
}

// PersonSeparator stands between the names of several people in one text.
const PersonSeparator = "; "
