package dcm

// The sizes of a slab's pieces: the first, and the largest that stays for the next
// file, so that one long report does not hold its memory for the whole run.
const (
	firstPiece = 256
	mostStays  = 16 << 10
)

// slab hands out slices that stay as they are until reset. Most headers fit into
// what the one before left, so that they cost no allocation.
type slab[T any] struct{ free []T }

func (s *slab[T]) reset() {
	if cap(s.free) > mostStays {
		s.free = nil
	}
	s.free = s.free[:0]
}

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
