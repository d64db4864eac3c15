package deid

import (
	"slices"
	"strings"
)

// words are looked for in texts. How many there are does not matter to the time that
// takes: a study with thousands of patients has a row for every file.
type words struct {
	all map[string]bool
	// lengths are those of the words that count within others.
	lengths []int
}

func (w *words) add(more ...string) {
	if w.all == nil {
		w.all = map[string]bool{}
	}
	for _, word := range more {
		w.all[word] = true
		if n := len(word); n > shortestWord && !slices.Contains(w.lengths, n) {
			w.lengths = append(w.lengths, n)
		}
	}
}

// in looks for words of more than three letters anywhere, shorter ones as whole
// words.
func (w *words) in(text string) bool {
	if len(w.all) == 0 {
		return false
	}
	text = strings.ToLower(text)
	for _, n := range w.lengths {
		for at := 0; at+n <= len(text); at++ {
			if w.all[text[at:at+n]] {
				return true
			}
		}
	}
	return slices.ContainsFunc(strings.FieldsFunc(text, notInWord), func(part string) bool { return w.all[part] })
}
