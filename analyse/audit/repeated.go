package audit

import (
	"slices"
	"strings"
	"sync"

	"leadline/analyse"
)

// mostRepeated is how many texts are remembered at once. What thousands of studies
// lack, they lack in a few hundred words; texts that only one study has must not fill
// the memory.
const mostRepeated = 1 << 13

// repeated keeps one copy of what study after study has in common: texts, the items
// that they meet or lack alike, what is said of an index whatever its value. In an
// archive of a year it would be more than a third of the memory.
type repeated struct {
	lock  sync.Mutex
	texts copies[string, string]
	lists copies[string, []string]
	items copies[analyse.ItemResult, *analyse.ItemResult]
	kinds copies[analyse.IndexKind, *analyse.IndexKind]
}

// share puts the one copy into the findings and the rows of a study.
func (r *repeated) share(s *analyse.Study, findings []analyse.Finding) {
	r.lock.Lock()
	defer r.lock.Unlock()
	for i := range findings {
		findings[i].Message = r.text(findings[i].Message)
	}
	items := make([]*analyse.ItemResult, len(s.Items)) // without the room that growing left
	for i := range s.Items {
		items[i] = one(&r.items, *s.Items[i])
	}
	s.Items = items
	for i := range s.Measurements {
		s.Measurements[i].Note = r.text(s.Measurements[i].Note)
	}
	for i := range s.Indices {
		x := &s.Indices[i]
		x.IndexKind, x.Note, x.Inputs = one(&r.kinds, *x.IndexKind), r.text(x.Note), r.list(x.Inputs)
	}
}

func (r *repeated) text(text string) string {
	return r.texts.of(text, func() string { return text })
}

// list returns the one copy of a list, of which no text holds a zero byte.
func (r *repeated) list(texts []string) []string {
	return r.lists.of(strings.Join(texts, "\x00"), func() []string { return slices.Clone(texts) })
}

// one returns the one copy of a value. It stands alone: one within a list would keep
// the list.
func one[T comparable](known *copies[T, *T], value T) *T {
	return known.of(value, func() *T { return &value })
}

// copies are what is kept, by what it is told by.
type copies[K comparable, V any] struct{ known map[K]V }

// of returns what is kept, else keeps what is made.
func (c *copies[K, V]) of(key K, made func() V) V {
	if known, ok := c.known[key]; ok {
		return known
	}
	if c.known == nil || len(c.known) >= mostRepeated {
		c.known = make(map[K]V)
	}
	value := made()
	c.known[key] = value
	return value
}
