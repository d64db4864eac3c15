package deid

import (
	"strconv"
	"strings"

	"leadline/ingest/terms"
)

// Meet numbers people in the order in which they are met: call it for the studies
// in the order of the output, before any text is written.
func (r *Rules) Meet(names string) {
	for _, name := range strings.Split(names, terms.PersonSeparator) {
		key := terms.Person(name)
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
	for _, name := range strings.Split(names, terms.PersonSeparator) {
		if p := r.person(name); p != "" && !seen[p] {
			seen[p] = true
			out = append(out, p)
		}
	}
	return strings.Join(out, terms.PersonSeparator)
}

func (r *Rules) person(name string) string {
	key := terms.Person(name)
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
