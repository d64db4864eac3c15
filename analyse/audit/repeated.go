package audit

import (
	"sync"

	"leadline/analyse"
)

// mostRepeated is how many texts are remembered at once. What thousands of studies
// lack, they lack in a few hundred words; texts that only one study has must not fill
// the memory.
const mostRepeated = 1 << 13

// repeated keeps one copy of the texts that study after study has in common, and of
// the items that they all meet or lack alike. In an archive of a year they are a third
// of the memory.
type repeated struct {
	lock  sync.Mutex
	known map[string]string
	items map[analyse.ItemResult]*analyse.ItemResult
}

// share puts the one copy into the findings and the items of a study.
func (r *repeated) share(s *analyse.Study, findings []analyse.Finding) {
	r.lock.Lock()
	defer r.lock.Unlock()
	for i := range findings {
		findings[i].Message = r.one(findings[i].Message)
	}
	items := make([]*analyse.ItemResult, len(s.Items)) // without the room that growing left
	for i := range s.Items {
		items[i] = r.item(*s.Items[i])
	}
	s.Items = items
	for i := range s.Measurements {
		s.Measurements[i].Note = r.one(s.Measurements[i].Note)
	}
	for i := range s.Indices {
		s.Indices[i].Note = r.one(s.Indices[i].Note)
		for k, input := range s.Indices[i].Inputs {
			s.Indices[i].Inputs[k] = r.one(input)
		}
	}
}

// item returns the one copy. It stands alone: one within a list would hold the list.
func (r *repeated) item(it analyse.ItemResult) *analyse.ItemResult {
	if known, ok := r.items[it]; ok {
		return known
	}
	if r.items == nil || len(r.items) >= mostRepeated {
		r.items = make(map[analyse.ItemResult]*analyse.ItemResult)
	}
	r.items[it] = &it
	return &it
}

func (r *repeated) one(text string) string {
	if known, ok := r.known[text]; ok {
		return known
	}
	if r.known == nil || len(r.known) >= mostRepeated {
		r.known = make(map[string]string, mostRepeated)
	}
	r.known[text] = text
	return text
}
