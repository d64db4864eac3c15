package protocol

import (
	"fmt"
	"slices"
	"strconv"

	"go.yaml.in/yaml/v3"
)

// language is the number of the language that this package reads.
const language = 1

// aProtocol is what errors call the file.
const aProtocol = "a protocol"

// Keys of the document. ownKeys are those that no protocol takes from the one it
// extends.
var (
	documentKeys = []string{"language", "name", "version", "title", "extends", "note", "sources", "when", "uncertainty", "drop", "items"}
	ownKeys      = []string{"language", "name", "version", "title"}
)

// Parse reads a protocol from the bytes of a file; file is its name for messages,
// and what the protocol extends is looked for beside it. Where anything is wrong
// the protocol is nil, and the error joins one *FileError for each fault.
func Parse(file string, data []byte) (*Protocol, error) {
	p, _, err := read(file, data, lineage{}.with(file))
	return p, err
}

// read reads a protocol, and returns also the document it was read from, whole.
func read(file string, data []byte, way lineage) (*Protocol, *yaml.Node, error) {
	r := &reader{file: file, what: aProtocol}
	p := &Protocol{File: file}
	root := r.tree(data)
	if root != nil {
		var err error
		if root, p.Extends, err = r.extended(root, way); err != nil {
			return nil, nil, err
		}
	}
	if root != nil {
		r.document(root, p)
	}
	if err := r.err(); err != nil {
		return nil, nil, err
	}
	return p, root, nil
}

func (r *reader) document(n *yaml.Node, p *Protocol) {
	f := r.fieldsOf(n, aProtocol, documentKeys...)
	if f == nil {
		return
	}
	if drop, ok := f.byKey["drop"]; ok {
		r.expect(drop, "extends beside drop, which drops items of another protocol")
	}
	f.head(p)
	var origins []origin
	if v := f.need("sources"); v != nil {
		origins = r.sources(v)
	}
	for _, o := range origins {
		p.Sources = append(p.Sources, o.text)
	}
	if v := f.need("when"); v != nil {
		p.When = r.when(v)
	}
	if v, ok := f.byKey["uncertainty"]; ok {
		p.Uncertainty = r.uncertainty(v)
	}
	if v := f.need("items"); v != nil {
		p.Items = r.items(v, origins)
	}
}

// head reads the keys of the document that stand for themselves.
func (f *fields) head(p *Protocol) {
	f.language()
	p.Name = f.id("name")
	p.Version = f.text("version")
	p.Title = f.title("title")
	p.Note = f.remark("note")
}

func (f *fields) language() {
	f.shape.tell("language", schema{"enum": []any{language, strconv.Itoa(language)}})
	if v := f.need("language"); v != nil && (v.Kind != yaml.ScalarNode || v.Value != strconv.Itoa(language)) {
		f.expect(v, fmt.Sprintf("language %d, the one that this program reads", language))
	}
}

// origin is one source with the word that items name it by.
type origin struct{ id, text string }

func (r *reader) sources(n *yaml.Node) []origin {
	f := r.fieldsOf(n, "sources, as in id: text")
	if f == nil {
		return nil
	}
	if len(f.byKey) > maxList {
		r.expect(n, fmt.Sprintf("at most %d sources", maxList))
		return nil
	}
	var out []origin
	for i := 0; i+1 < len(n.Content); i += 2 {
		key := n.Content[i]
		if !kebab.MatchString(key.Value) {
			r.expect(key, "a source id of lower-case letters, digits and hyphens")
			continue
		}
		if text, ok := r.scalar(n.Content[i+1], "a text for the source "+key.Value); ok {
			out = append(out, origin{id: key.Value, text: text})
		}
	}
	if len(out) == 0 {
		r.expect(n, "at least one source")
	}
	return out
}

// whenLists are the keys of when that hold what a study is told by.
var whenLists = []string{"body-parts", "regions", "procedures", "words", "image-types", "views", "view-names", "view-codes", "measures"}

// whenLimits are the keys of when that narrow what the lists find.
var whenLimits = []string{"devices", "min-age-days", "max-age-days"}

// maxAgeDays is twenty years; a newborn unit has nobody older.
const maxAgeDays = 20 * 366

func (r *reader) when(n *yaml.Node) When {
	f := r.fieldsOf(n, "when", slices.Concat(whenLists, whenLimits, []string{"at-least"})...)
	if f == nil {
		return When{}
	}
	entries := 0
	for _, key := range whenLists {
		if v, ok := f.byKey[key]; ok && (v.Kind != yaml.SequenceNode || len(v.Content) > 0) {
			entries++
		}
	}
	if entries == 0 && len(f.byKey)*2 == len(n.Content) { // else an unknown key was meant, and is told
		r.expect(n, "at least one entry under when; a protocol without any is never used")
	}
	return f.when()
}

func (f *fields) when() When {
	w := When{
		BodyParts:  f.texts("body-parts"),
		Regions:    f.codes("regions"),
		Procedures: f.codes("procedures"),
		Words:      f.names("words"),
		ImageTypes: f.texts("image-types"),
		Shown:      f.shown("views"),
		Measures:   f.refs("measures", measures),
		Devices:    f.names("devices"),
		MinAgeDays: f.number("min-age-days", 0, maxAgeDays),
		MaxAgeDays: f.number("max-age-days", 0, maxAgeDays),
	}
	if w.MinAgeDays.Set && w.MaxAgeDays.Set && w.MinAgeDays.Value > w.MaxAgeDays.Value {
		f.expect(f.byKey["max-age-days"], fmt.Sprintf("max-age-days of at least min-age-days, %g", w.MinAgeDays.Value))
	}
	found := len(w.Entries()) + len(w.Measures)
	w.AtLeast = f.count("at-least", 1000, min(2, max(found, 1)))
	if w.AtLeast > max(found, 1) {
		f.expect(f.byKey["at-least"], fmt.Sprintf("at most %d for at-least, the number of different views and measures", found))
	}
	return w
}
