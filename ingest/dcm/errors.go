package dcm

import (
	"errors"
	"fmt"
)

// ErrNotDICOM tells that a file has no sign of being DICOM. It is wrapped with
// what the file looks like.
var ErrNotDICOM = errors.New("not a DICOM file")

// FormatError is a header that cannot be read on: where, at which element, and
// what was expected there. It never holds a value.
type FormatError struct {
	Offset   int64
	Tag      Tag
	Expected string
}

func (e *FormatError) Error() string {
	if e.Tag == 0 {
		return fmt.Sprintf("offset %d: expected %s", e.Offset, e.Expected)
	}
	return fmt.Sprintf("element %s at offset %d: expected %s", e.Tag, e.Offset, e.Expected)
}

// LimitError is a header that asks for more than is granted.
type LimitError struct {
	What   string
	Limit  int64
	Offset int64
}

func (e *LimitError) Error() string {
	return fmt.Sprintf("offset %d: more than %d %s", e.Offset, e.Limit, e.What)
}
