package deid

import (
	"strconv"
	"strings"
)

// personSeparator stands between the names of several people in one text.
const personSeparator = "; "

// Meet numbers people in the order in which they are met: call it for the studies
// in the order of the output, before any text is written.
func (r *Rules) Meet(names string) {
	for _, name := range strings.Split(names, personSeparator) {
		key := personKey(name)
		if key == "" || r.people[key] != 0 {
			continue
		}
		r.order++
		r.people[key] = r.order
	}
}

// persons replaces each name of a text; a person named twice appears once.
func (r *Rules) persons(names string) string {
	var out []string
	seen := map[string]bool{}
	for _, name := range strings.Split(names, personSeparator) {
		if p := r.person(name); p != "" && !seen[p] {
			seen[p] = true
			out = append(out, p)
		}
	}
	return strings.Join(out, personSeparator)
}

func (r *Rules) person(name string) string {
	key := personKey(name)
	switch {
	case key == "":
		return ""
	case r.identity == None:
		return "person-" + r.short("person", key)
	case r.people[key] == 0:
		// Never a name, even where nobody introduced it.
		return "person"
	}
	return "person " + strconv.Itoa(r.people[key])
}

// personKey makes the ways of writing one name equal: case, the component signs
// of PN (PS3.5 6.2.1) and blanks do not tell people apart.
func personKey(name string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(name), func(c rune) bool {
		return c == '^' || c == ' ' || c == '='
	}), " ")
}
