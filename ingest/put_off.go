package ingest

import (
	"slices"
	"sync"
)

// putOff takes the containers among the members of an archive that workers read at
// once, by their places in it. What an archive may list and inflate is bounded for all
// that is in it together; of plain members it is known beforehand whether that is
// enough, of containers it is not. So they are opened when the others are done, one
// after the other: what is refused shall not depend on who comes first. It is safe for
// concurrent use; nil takes none.
type putOff struct {
	mu     sync.Mutex
	places []int
}

func (p *putOff) take(at int) bool {
	if p == nil {
		return false
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	p.places = append(p.places, at)
	return true
}

// inOrder are the places taken, in the order of the archive.
func (p *putOff) inOrder() []int {
	if p == nil {
		return nil
	}
	slices.Sort(p.places)
	return p.places
}
