package protocol

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"go.yaml.in/yaml/v3"

	"leadline/ingest/dcm"
	"leadline/ingest/terms"
)

// fields are the keys of one mapping with their values.
type fields struct {
	*reader
	node  *yaml.Node
	byKey map[string]*yaml.Node
	// shape is told what is asked for, where the schema is to be made.
	shape *shape
}

// fieldsOf reads a mapping whose keys are among known, each once. It returns nil,
// and has said so, where the node is no mapping.
func (r *reader) fieldsOf(n *yaml.Node, what string, known ...string) *fields {
	if n.Kind != yaml.MappingNode {
		r.expect(n, what)
		return nil
	}
	f := &fields{reader: r, node: n, byKey: map[string]*yaml.Node{}}
	for i := 0; i+1 < len(n.Content); i += 2 {
		key, value := n.Content[i], n.Content[i+1]
		first, twice := f.byKey[key.Value]
		switch {
		case key.Kind != yaml.ScalarNode || (known != nil && !slices.Contains(known, key.Value)):
			r.expectWord(key, "a key of "+what, known)
		case twice:
			r.fail(&FileError{Line: key.Line, Column: key.Column, Expected: "each key once",
				Found: fmt.Sprintf("%s again (first on line %d)", describe(key), first.Line)})
		default:
			f.byKey[key.Value] = value
		}
	}
	return f
}

// need says that a key is missing, at the place of the mapping.
func (f *fields) need(key string) *yaml.Node {
	f.shape.require(key)
	n, ok := f.byKey[key]
	if !ok {
		f.fail(&FileError{Line: f.node.Line, Column: f.node.Column, Expected: "the key " + key})
	}
	return n
}

// scalar is a single value; what says what it should be.
func (r *reader) scalar(n *yaml.Node, what string) (string, bool) {
	if n.Kind != yaml.ScalarNode || n.ShortTag() == "!!null" || n.Value == "" {
		r.expect(n, what)
		return "", false
	}
	return n.Value, true
}

// text is a text that must be there.
func (f *fields) text(key string) string {
	f.shape.tell(key, textSchema)
	if n := f.need(key); n != nil {
		s, _ := f.scalar(n, "a text for "+key)
		return s
	}
	return ""
}

// maxTitle is how many letters a title may have: it stands in sentences, charts and on
// the terminal.
const maxTitle = 200

// title is a text of one line that must be there.
func (f *fields) title(key string) string {
	given := f.text(key)
	f.shape.tell(key, titleSchema)
	s := strings.TrimRight(given, "\n") // a folded text ends so
	if given != "" && s == "" || strings.ContainsFunc(s, breaksLine) || len([]rune(s)) > maxTitle {
		f.fail(&FileError{Line: f.byKey[key].Line, Column: f.byKey[key].Column, Expected: fmt.Sprintf("one line of at most %d letters for %s, without control characters", maxTitle, key)})
		return ""
	}
	return s
}

// breaksLine tells a control character, or a separator of lines or paragraphs.
func breaksLine(c rune) bool { return unicode.In(c, unicode.Cc, unicode.Zl, unicode.Zp) }

// remark is a text that may be left out.
func (f *fields) remark(key string) string {
	f.shape.tell(key, textSchema)
	if _, ok := f.byKey[key]; !ok {
		return ""
	}
	return f.text(key)
}

var kebab = regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`)

// id is a kebab word that must be there.
func (f *fields) id(key string) string {
	s := f.text(key)
	f.shape.tell(key, idSchema)
	if s != "" && !kebab.MatchString(s) {
		f.expect(f.byKey[key], key+" of lower-case letters, digits and hyphens")
		return ""
	}
	return s
}

// word is one of known; absent where the key is.
func (f *fields) word(key string, known []string, absent string) string {
	f.shape.tell(key, wordSchema(known))
	n, ok := f.byKey[key]
	if !ok {
		return absent
	}
	return f.known(n, "a word for "+key, known)
}

func (r *reader) known(n *yaml.Node, what string, known []string) string {
	if n.Kind != yaml.ScalarNode || !slices.Contains(known, n.Value) {
		r.expectWord(n, what, known)
		return ""
	}
	return n.Value
}

// maxList is how many entries a list may have; every word is looked up among all
// that are known, and held against those before it.
const maxList = 1000

// list is one value or a list of values; an empty list is no value.
func (f *fields) list(key string) []*yaml.Node {
	n, ok := f.byKey[key]
	switch {
	case !ok:
		return nil
	case n.Kind == yaml.SequenceNode && len(n.Content) > maxList:
		f.expect(n, fmt.Sprintf("at most %d entries for %s", maxList, key))
		return nil
	case n.Kind == yaml.SequenceNode:
		return n.Content
	case n.Kind == yaml.ScalarNode && n.ShortTag() != "!!null":
		return []*yaml.Node{n}
	}
	f.expect(n, "a value or a list for "+key)
	return nil
}

// texts is a list of texts.
func (f *fields) texts(key string) []string { return f.textsLike(key, "a text for "+key, nil) }

// names is a list of texts that are compared by their letters and digits, and so must
// have some.
func (f *fields) names(key string) []string {
	return f.textsLike(key, "a text with letters or digits for "+key, func(s string) bool { return terms.Normal(s) != "" })
}

func (f *fields) textsLike(key, what string, good func(string) bool) []string {
	f.shape.tell(key, listSchema(textSchema))
	var out []string
	for _, n := range f.list(key) {
		s, ok := f.scalar(n, what)
		switch {
		case !ok:
		case good != nil && !good(s):
			f.expect(n, what)
		default:
			out = append(out, s)
		}
	}
	return out
}

// words is a list of words of known, each once.
func (f *fields) words(key string, known []string) []string {
	f.shape.tell(key, setSchema(wordSchema(known)))
	var out []string
	for _, n := range f.list(key) {
		w := f.known(n, "a word for "+key, known)
		switch {
		case w == "":
		case slices.Contains(out, w):
			f.expect(n, "each word of "+key+" once")
		default:
			out = append(out, w)
		}
	}
	return out
}

// refs is a list of measures or indices: kebab words that the caller of the
// package checks.
func (f *fields) refs(key string, to catalogue) []Ref {
	f.shape.tell(key, setSchema(to.schema()))
	var out []Ref
	for _, n := range f.list(key) {
		if n.Kind != yaml.ScalarNode || !kebab.MatchString(n.Value) {
			f.expect(n, key+" of lower-case letters, digits and hyphens")
			continue
		}
		if slices.ContainsFunc(out, func(r Ref) bool { return r.ID == n.Value }) {
			f.expect(n, "each word of "+key+" once")
			continue
		}
		out = append(out, Ref{ID: n.Value, Line: n.Line, Column: n.Column})
	}
	return out
}

var codeText = regexp.MustCompile(`^([A-Za-z0-9_-]{1,16}) ([A-Za-z0-9._-]{1,64})$`)

// codes is a list of coded concepts as "SCHEME value".
func (f *fields) codes(key string) []dcm.Code {
	f.shape.tell(key, listSchema(schema{"type": "string", "pattern": codeText.String()}))
	var out []dcm.Code
	for _, n := range f.list(key) {
		m := codeText.FindStringSubmatch(n.Value)
		if n.Kind != yaml.ScalarNode || m == nil {
			f.expect(n, "a code for "+key+`, as in "SCT 431852008"`)
			continue
		}
		out = append(out, dcm.Code{Value: m[2], Scheme: m[1]})
	}
	return out
}

// number is a number from low to high; unset where the key is absent.
func (f *fields) number(key string, low, high float64) dcm.Optional[float64] {
	f.shape.tell(key, schema{"type": "number", "minimum": low, "maximum": high})
	n, ok := f.byKey[key]
	if !ok {
		return dcm.Optional[float64]{}
	}
	tag := n.ShortTag()
	v, err := strconv.ParseFloat(n.Value, 64)
	if n.Kind != yaml.ScalarNode || (tag != "!!int" && tag != "!!float") || err != nil || math.IsNaN(v) || v < low || v > high {
		f.expect(n, fmt.Sprintf("a number from %g to %g for %s", low, high, key))
		return dcm.Optional[float64]{}
	}
	return dcm.Some(v)
}

// count is a whole number from 1 to high; absent where the key is.
func (f *fields) count(key string, high, absent int) int {
	f.shape.tell(key, schema{"type": "integer", "minimum": 1, "maximum": high})
	n, ok := f.byKey[key]
	if !ok {
		return absent
	}
	v, err := strconv.Atoi(n.Value)
	if n.Kind != yaml.ScalarNode || n.ShortTag() != "!!int" || err != nil || v < 1 || v > high {
		f.expect(n, fmt.Sprintf("a whole number from 1 to %d for %s", high, key))
		return absent
	}
	return v
}

// flag is true or false; false where the key is absent.
func (f *fields) flag(key string) bool {
	f.shape.tell(key, schema{"type": "boolean"})
	n, ok := f.byKey[key]
	if !ok {
		return false
	}
	if n.Kind != yaml.ScalarNode || n.ShortTag() != "!!bool" {
		f.expect(n, "true or false for "+key)
	}
	return n.ShortTag() == "!!bool" && (n.Value == "true" || n.Value == "True" || n.Value == "TRUE")
}
