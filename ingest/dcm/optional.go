package dcm

// Optional is a value that a file may leave out. Absent is not zero: Set tells.
type Optional[T any] struct {
	Value T
	Set   bool
}

// Some is a value that is there.
func Some[T any](v T) Optional[T] { return Optional[T]{Value: v, Set: true} }

// Get returns the value and whether it is there.
func (o Optional[T]) Get() (T, bool) { return o.Value, o.Set }
