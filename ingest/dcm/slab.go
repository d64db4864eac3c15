package dcm

import "slices"

// The sizes of a slab's pieces: the first, and the largest that stays for the next
// file, so that one long report does not hold its memory for the whole run.
const (
	firstPiece = 256
	mostStays  = 16 << 10
)

// slab hands out slices that stay as they are until reset. Most headers fit into
// what the one before left, so that they cost no allocation.
type slab[T any] struct{ free []T }

func (s *slab[T]) reset() { s.free = emptied(s.free) }

// emptied is s without its content, and without its memory where that is more than
// stays.
func emptied[T any](s []T) []T {
	if cap(s) > mostStays {
		return nil
	}
	return s[:0]
}

// room is memory for a number of T that is known before, given out in pieces.
type room[T any] struct {
	all  []T
	used int
}

// reset makes room for n, in the memory of before where that is enough.
func (r *room[T]) reset(n int) {
	r.all, r.used = slices.Grow(emptied(r.all), n)[:n], 0
}

// take gives out the next n; ok is false where fewer are left.
func (r *room[T]) take(n int) (piece []T, ok bool) {
	if n > len(r.all)-r.used {
		return nil, false
	}
	at := r.used
	r.used += n
	return r.all[at:r.used:r.used], true
}

// full tells that all is given out.
func (r *room[T]) full() bool { return r.used == len(r.all) }

// keep copies items; nil where there are none.
func (s *slab[T]) keep(items []T) []T {
	if len(items) == 0 {
		return nil
	}
	if cap(s.free)-len(s.free) < len(items) {
		s.free = make([]T, 0, max(firstPiece, min(2*cap(s.free), mostStays), len(items)))
	}
	at := len(s.free)
	s.free = append(s.free, items...)
	return s.free[at:len(s.free):len(s.free)]
}
