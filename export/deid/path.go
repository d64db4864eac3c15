package deid

import "strings"

// MeetPath looks for elements of a path that are named after its patient, to be
// withheld wherever they stand. The birth date is not looked for: folders named
// after the study date of a child's first day would all be withheld.
func (r *Rules) MeetPath(subject *Subject, path string) {
	if r.identity != Study || subject == nil || len(subject.names.all) == 0 {
		return
	}
	if !subject.names.in(path) {
		return
	}
	for _, element := range strings.Split(path, "/") {
		if subject.names.in(element) {
			r.withheld[strings.ToLower(element)] = true
		}
	}
}

func (r *Rules) path(path string) string {
	if len(r.withheld) == 0 {
		return path
	}
	elements := strings.Split(path, "/")
	for i, element := range elements {
		if r.withheld[strings.ToLower(element)] {
			elements[i] = Withheld
		}
	}
	return strings.Join(elements, "/")
}
