package dcm

// The bounds of repeated: what is longer is seldom repeated, and identifiers that
// are met once must not fill the memory.
const (
	longestRepeated = 128
	mostRepeated    = 4096
)

// repeated makes text of bytes, one string for equal bytes met again: an archive
// says the same words in every file.
type repeated struct{ seen map[string]string }

func (r *repeated) text(b []byte) string {
	if r == nil || len(b) > longestRepeated {
		return string(b)
	}
	if s, ok := r.seen[string(b)]; ok {
		return s
	}
	switch {
	case r.seen == nil:
		r.seen = make(map[string]string)
	case len(r.seen) >= mostRepeated:
		clear(r.seen)
	}
	s := string(b)
	r.seen[s] = s
	return s
}
