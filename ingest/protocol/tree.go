package protocol

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v3"
)

// maxDepth is how deep lists and keys may lie in each other; the language needs 6.
const maxDepth = 12

// tree reads the one document of a file as nodes, which keep their places.
// Nothing is expanded: anchors, aliases, merge keys and tags are refused, and with
// them every way to make a small file big.
func (r *reader) tree(data []byte) *yaml.Node {
	if len(data) > maxBytes {
		r.fail(&FileError{Expected: fmt.Sprintf("at most %d bytes", maxBytes), Found: "more"})
		return nil
	}
	if r.tabs(data) {
		return nil
	}
	dec := yaml.NewDecoder(bytes.NewReader(data))
	var doc yaml.Node
	if err := dec.Decode(&doc); err != nil {
		r.syntax(err)
		return nil
	}
	var second yaml.Node
	switch err := dec.Decode(&second); {
	case err == nil:
		r.fail(&FileError{Line: second.Line, Column: second.Column, Expected: "the end of the file", Found: "a second document"})
	case !errors.Is(err, io.EOF):
		r.syntax(err)
	}
	if len(doc.Content) != 1 {
		r.fail(&FileError{Expected: r.what, Found: "an empty document"})
		return nil
	}
	if !r.plain(doc.Content[0], 1) || len(r.errs) > 0 {
		return nil
	}
	return doc.Content[0]
}

// tabs finds tabs that indent, which YAML forbids and its parser explains badly.
func (r *reader) tabs(data []byte) bool {
	for i, line := range strings.Split(string(data), "\n") {
		body := strings.TrimLeft(line, " \t")
		indent := line[:len(line)-len(body)]
		if tab := strings.IndexByte(indent, '\t'); tab >= 0 && strings.TrimSpace(body) != "" {
			r.fail(&FileError{Line: i + 1, Column: tab + 1, Expected: "blanks before the first word", Found: "a tab"})
		}
	}
	return len(r.errs) > 0
}

var syntaxLine = regexp.MustCompile(`^yaml: line (\d+): `)

// syntax tells an error of the YAML parser, which gives no column and, by its
// kind, the line of the fault or the one before.
func (r *reader) syntax(err error) {
	if errors.Is(err, io.EOF) {
		r.fail(&FileError{Expected: r.what, Found: "an empty file"})
		return
	}
	text, line := err.Error(), 0
	if m := syntaxLine.FindStringSubmatch(text); m != nil {
		line, _ = strconv.Atoi(m[1])
		text = text[len(m[0]):]
	}
	r.fail(&FileError{Line: line, Expected: "YAML", Found: "a fault here or on the next line: " + strings.TrimPrefix(text, "yaml: ")})
}

// plain tells whether a node and all below it are made of plain parts.
func (r *reader) plain(n *yaml.Node, depth int) bool {
	switch {
	case n.Kind == yaml.AliasNode:
		r.fail(&FileError{Line: n.Line, Column: n.Column, Expected: "the value itself", Found: "an alias (*)"})
		return false
	case n.Anchor != "":
		r.fail(&FileError{Line: n.Line, Column: n.Column, Expected: "a value without an anchor", Found: "an anchor (&)"})
		return false
	case n.Style&yaml.TaggedStyle != 0:
		r.fail(&FileError{Line: n.Line, Column: n.Column, Expected: "a value without a tag", Found: "a tag (!)"})
		return false
	case depth > maxDepth:
		r.fail(&FileError{Line: n.Line, Column: n.Column, Expected: fmt.Sprintf("at most %d levels", maxDepth), Found: "more"})
		return false
	}
	for _, child := range n.Content {
		if !r.plain(child, depth+1) {
			return false
		}
	}
	return true
}
