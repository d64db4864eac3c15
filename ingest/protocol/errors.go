package protocol

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"

	"leadline/ingest/dcm"
	"leadline/ingest/terms"
)

// FileError is one thing wrong with a file that this package reads. Line and Column count from 1
// and are 0 where they are not known. Expected says what should stand there, Found
// what does, Nearest the valid word that is most like it.
type FileError struct {
	File                     string
	Line, Column             int
	Expected, Found, Nearest string
}

func (e *FileError) Error() string {
	var b strings.Builder
	b.WriteString(e.File)
	for _, n := range []int{e.Line, e.Column} {
		if n > 0 {
			fmt.Fprintf(&b, ":%d", n)
		}
	}
	b.WriteString(": expected " + e.Expected)
	if e.Found != "" {
		b.WriteString(", found " + e.Found)
	}
	if e.Nearest != "" {
		fmt.Fprintf(&b, "; the nearest word is %q", e.Nearest)
	}
	return b.String()
}

// maxErrors is how many errors of one file are told; a file that is no protocol at
// all would fill the screen.
const maxErrors = 20

// reader collects what is wrong with a file.
type reader struct {
	file string
	// what the file should be, in words: a protocol
	what    string
	errs    []error // each a *FileError
	leftOut bool
}

func (r *reader) fail(e *FileError) {
	if len(r.errs) == maxErrors {
		r.leftOut = true
		return
	}
	e.File = r.file
	r.errs = append(r.errs, e)
}

// expect says what was expected at a node.
func (r *reader) expect(n *yaml.Node, expected string) {
	r.fail(&FileError{Line: n.Line, Column: n.Column, Expected: expected, Found: describe(n)})
}

// expectWord says which words may stand at a node, and which is nearest.
func (r *reader) expectWord(n *yaml.Node, what string, known []string) {
	if len(r.errs) == maxErrors {
		r.leftOut = true // without looking for the nearest of many words, many times
		return
	}
	e := &FileError{Line: n.Line, Column: n.Column, Found: describe(n), Nearest: terms.Nearest(n.Value, known)}
	if view, _, ok := ViewOf(dcm.Code{}, n.Value); ok && slices.Contains(known, view.ID) {
		e.Nearest = view.ID // a view by the name that devices write
	}
	e.Expected = what
	if len(known) <= 8 || e.Nearest == "" {
		e.Expected += ": " + strings.Join(known, ", ")
	}
	r.fail(e)
}

// err joins the faults in the order of the file.
func (r *reader) err() error {
	slices.SortStableFunc(r.errs, func(a, b error) int {
		x, y := a.(*FileError), b.(*FileError)
		return cmp.Or(cmp.Compare(x.Line, y.Line), cmp.Compare(x.Column, y.Column))
	})
	if r.leftOut {
		r.errs = append(r.errs, fmt.Errorf("%s: more errors were left out", r.file))
		r.leftOut = false
	}
	return errors.Join(r.errs...)
}

// describe says in a few words what stands at a node.
func describe(n *yaml.Node) string {
	switch n.Kind {
	case yaml.MappingNode:
		return "keys with values"
	case yaml.SequenceNode:
		return "a list"
	case yaml.AliasNode:
		return "an alias"
	}
	if n.ShortTag() == "!!null" {
		return "nothing"
	}
	value := []rune(n.Value)
	if len(value) > 40 {
		value = append(value[:40], '…')
	}
	return fmt.Sprintf("%q", string(value))
}
