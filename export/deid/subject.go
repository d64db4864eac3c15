package deid

import (
	"strings"
	"unicode"

	"leadline/ingest/terms"
)

// Withheld stands for a text that named the patient.
const Withheld = "(withheld)"

// Subject is the patient that a row is about, as far as the rules need it.
type Subject struct {
	// key is the same for all studies of a patient.
	key string
	// names are words of name and id, dates the birth date as it may be written.
	names, dates words
}

// Identifiers are what identifies a patient. BirthDate is a DA value.
type Identifiers struct{ Name, ID, BirthDate string }

// Subject makes the subject of a study from the patients met in it, the first of
// whom it is about. studyUID stands in where the patient has neither id nor name.
func (r *Rules) Subject(studyUID string, patients ...Identifiers) *Subject {
	s := &Subject{key: "study:" + studyUID}
	if len(patients) > 0 {
		switch first := patients[0]; {
		case first.ID != "":
			s.key = "id:" + first.ID
		case first.Name != "":
			s.key = "name:" + terms.Person(first.Name)
		}
	}
	if r.identity != Study {
		return s
	}
	for _, p := range patients {
		s.names.add(nameWords(p)...)
		if d := p.BirthDate; len(d) == 8 {
			s.dates.add(d, d[:4]+"-"+d[4:6]+"-"+d[6:], d[6:]+"."+d[4:6]+"."+d[:4])
		}
	}
	return s
}

// nobody are words in names of newborns that name nobody.
var nobody = map[string]bool{
	"baby": true, "boy": true, "girl": true, "twin": true, "infant": true, "newborn": true,
	"male": true, "female": true, "anonymous": true, "anonymized": true, "unknown": true, "test": true,
}

// shortestWord is how many letters a word of a name needs to count: shorter ones
// (of, de, II) stand in too many other words.
const shortestWord = 3

func nameWords(p Identifiers) []string {
	var words []string
	for _, w := range strings.FieldsFunc(strings.ToLower(p.Name), notInWord) {
		if (len([]rune(w)) >= shortestWord || !terms.IsASCII(w)) && !nobody[w] {
			words = append(words, w)
		}
	}
	if id := strings.ToLower(p.ID); len(id) > shortestWord {
		words = append(words, id)
	}
	return words
}

// named tells whether a text holds a word of the patient's name, the id or the
// birth date.
func (s *Subject) named(text string) bool {
	return s != nil && (s.names.in(text) || s.dates.in(text))
}

func notInWord(c rune) bool { return !unicode.IsLetter(c) && !unicode.IsDigit(c) && !unicode.IsMark(c) }
