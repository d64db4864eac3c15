package protocol

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"

	"leadline/ingest/terms"
)

// maxLineage is how many protocols may lie one above the other; a unit's own above
// its hospital's above a built-in one are three.
const maxLineage = 10

// lineage is the way to the file being read: that file last, each before it
// extending the next. Files are named as the messages name them, and told apart
// by key.
type lineage struct{ names, keys []string }

func (l lineage) with(file string) lineage {
	return lineage{append(slices.Clone(l.names), file), append(slices.Clone(l.keys), keyOf(file))}
}

// keyOf is the same for the same file, by whatever path.
func keyOf(file string) string {
	if slices.Contains(Builtins(), file) {
		return "built-in " + file
	}
	if abs, err := filepath.Abs(file); err == nil {
		file = abs
	}
	if real, err := filepath.EvalSymlinks(file); err == nil {
		file = real
	}
	return file
}

// extended lays a document over the protocol that it extends, if any: the whole is
// a document that extends none. Faults of the document itself are kept by the
// reader, those of the other protocol, which has its own file, are returned.
func (r *reader) extended(root *yaml.Node, way lineage) (whole *yaml.Node, parent *Protocol, err error) {
	at := valueOf(root, "extends")
	if at == nil {
		return root, nil, nil
	}
	if r.fieldsOf(root, aProtocol, documentKeys...); len(r.errs) > 0 {
		return nil, nil, nil
	}
	file, data := r.parentFile(at, way)
	if data == nil {
		return nil, nil, nil
	}
	parent, under, err := read(file, data, way.with(file))
	if err != nil {
		return nil, nil, err
	}
	return r.overlay(root, under, at), parent, nil
}

// parentFile finds the file that an extends names; data is nil, and the fault
// told, where there is none.
func (r *reader) parentFile(at *yaml.Node, way lineage) (file string, data []byte) {
	const what = "a built-in protocol, or a file beside this one"
	name, ok := r.scalar(at, what)
	if !ok {
		return "", nil
	}
	file = name
	if !slices.Contains(Builtins(), name) && !filepath.IsAbs(name) {
		file = filepath.Join(filepath.Dir(r.file), name)
	}
	fault := &FileError{Line: at.Line, Column: at.Column, Expected: what, Found: describe(at)}
	switch {
	case slices.Contains(way.keys, keyOf(file)):
		fault.Expected = "a protocol that does not extend this one in turn"
		fault.Found += " (" + strings.Join(append(slices.Clone(way.names), file), " extends ") + ")"
	case len(way.keys) == maxLineage:
		fault.Expected = fmt.Sprintf("at most %d protocols one above the other", maxLineage)
	default:
		data, err := dataOf(file)
		if err == nil {
			return file, data
		}
		var unfit *FileError
		switch {
		case errors.Is(err, fs.ErrPermission):
			fault.Found += ", which may not be read"
		case errors.As(err, &unfit) && unfit.Nearest == "" && unfit.Found != "neither":
			fault.Found += ", " + unfit.Found
		default:
			fault.Nearest = terms.Nearest(name, append(Builtins(), beside(r.file)...))
		}
	}
	r.fail(fault)
	return "", nil
}

// beside are the names of the YAML files in the folder of a file.
func beside(file string) []string {
	entries, err := os.ReadDir(filepath.Dir(file))
	if err != nil {
		return nil
	}
	var names []string
	for _, e := range entries {
		if ext := filepath.Ext(e.Name()); ext == ".yaml" || ext == ".yml" {
			names = append(names, e.Name())
		}
	}
	return names
}

// overlay makes one document of two. A key of the upper one takes the place of
// the lower one's, save that sources are added to and items are laid over one by
// one. What names the protocol (ownKeys) never comes from below.
//
// Nodes from below bear the place of extends: where a combination is at fault, the
// upper file is to be mended.
func (r *reader) overlay(upper, lower, at *yaml.Node) *yaml.Node {
	whole := &yaml.Node{Kind: yaml.MappingNode, Line: upper.Line, Column: upper.Column}
	for _, key := range documentKeys {
		above, below := pairOf(upper, key), pairOf(lower, key)
		switch {
		case key == "extends" || key == "drop":
			continue
		case key == "sources" && above != nil && above[1].Kind == yaml.MappingNode:
			above = []*yaml.Node{above[0], laidOver(above[1], copyAt(below[1], at))}
		case key == "items":
			below = copies(below, at)
			items := r.itemsOver(valueOf(upper, "items"), below[1], valueOf(upper, "drop"))
			above = []*yaml.Node{below[0], items}
		case above == nil && below != nil && !slices.Contains(ownKeys, key):
			above = copies(below, at)
		}
		whole.Content = append(whole.Content, above...)
	}
	return whole
}

// itemsOver lays a list of items over another: those that drop names are left out,
// one whose id is known changes that item, and the others follow.
func (r *reader) itemsOver(upper, lower, drop *yaml.Node) *yaml.Node {
	ids := make([]string, len(lower.Content))
	for i, item := range lower.Content {
		ids[i] = valueOf(item, "id").Value
	}
	dropped := map[string]bool{}
	for _, id := range r.dropped(drop, ids) {
		dropped[id] = true
	}
	out := &yaml.Node{Kind: yaml.SequenceNode, Line: lower.Line, Column: lower.Column}
	places := map[string]int{} // of the items that are kept and not yet changed
	for i, item := range lower.Content {
		if !dropped[ids[i]] {
			places[ids[i]] = len(out.Content)
			out.Content = append(out.Content, item)
		}
	}
	switch {
	case upper == nil:
		return out
	case upper.Kind != yaml.SequenceNode:
		return upper // and the reader of items says so
	}
	for _, item := range upper.Content {
		id := valueOf(item, "id")
		if id == nil {
			out.Content = append(out.Content, item)
		} else if i, below := places[id.Value]; below {
			delete(places, id.Value)
			out.Content[i] = itemOver(item, out.Content[i])
		} else {
			out.Content = append(out.Content, item)
		}
	}
	return out
}

// dropped reads the ids under drop.
func (r *reader) dropped(drop *yaml.Node, ids []string) []string {
	if drop == nil {
		return nil
	}
	f := &fields{reader: r, byKey: map[string]*yaml.Node{"drop": drop}}
	return f.words("drop", ids)
}

// itemOver changes an item: a key given takes the place of the one below; another
// kind, or any-of, takes the place of the whole rule.
func itemOver(upper, lower *yaml.Node) *yaml.Node {
	lower = copyAt(lower, upper)
	if valueOf(upper, "kind") == nil && valueOf(upper, "any-of") == nil {
		return laidOver(upper, lower)
	}
	kept := *lower
	kept.Content = nil
	for i := 0; i+1 < len(lower.Content); i += 2 {
		if slices.Contains(itemKeys, lower.Content[i].Value) {
			kept.Content = append(kept.Content, lower.Content[i:i+2]...)
		}
	}
	return laidOver(upper, &kept)
}

// laidOver makes one mapping of two, in the order of the lower one. A key that the
// upper one has twice is kept twice, so that it is found to be at fault.
func laidOver(upper, lower *yaml.Node) *yaml.Node {
	out := &yaml.Node{Kind: yaml.MappingNode, Line: upper.Line, Column: upper.Column, HeadComment: upper.HeadComment}
	placed := map[*yaml.Node]bool{}
	for i := 0; i+1 < len(lower.Content); i += 2 {
		pair := pairOf(upper, lower.Content[i].Value)
		if pair == nil {
			pair = lower.Content[i : i+2]
		}
		placed[pair[0]] = true
		out.Content = append(out.Content, pair...)
	}
	for i := 0; i+1 < len(upper.Content); i += 2 {
		if !placed[upper.Content[i]] {
			out.Content = append(out.Content, upper.Content[i:i+2]...)
		}
	}
	return out
}

// pairOf is a key of a mapping with its value, nil where there is none.
func pairOf(n *yaml.Node, key string) []*yaml.Node {
	for i := 0; n.Kind == yaml.MappingNode && i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == key {
			return n.Content[i : i+2 : i+2]
		}
	}
	return nil
}

func valueOf(n *yaml.Node, key string) *yaml.Node {
	if pair := pairOf(n, key); pair != nil {
		return pair[1]
	}
	return nil
}

// copyAt is a copy of a node and all below it, each at the place of another.
func copyAt(n, place *yaml.Node) *yaml.Node {
	c := *n
	c.Line, c.Column = place.Line, place.Column
	c.Content = copies(n.Content, place)
	return &c
}

func copies(nodes []*yaml.Node, place *yaml.Node) []*yaml.Node {
	out := make([]*yaml.Node, len(nodes))
	for i, n := range nodes {
		out[i] = copyAt(n, place)
	}
	return out
}

// Text is the text of a built-in protocol or of a file, remarks included, as a
// file that stands alone: where it extends another, all that it takes from there
// is in it.
func Text(nameOrFile string) ([]byte, error) {
	data, err := dataOf(nameOrFile)
	if err != nil {
		return nil, err
	}
	p, root, err := read(nameOrFile, data, lineage{}.with(nameOrFile))
	if err != nil {
		return nil, err
	}
	if p.Extends == nil {
		return data, nil
	}
	var out bytes.Buffer
	fmt.Fprintf(&out, "# %s with all that it takes from %s.\n\n", p.Name, p.Extends.Name)
	enc := yaml.NewEncoder(&out)
	enc.SetIndent(2)
	if err := enc.Encode(root); err != nil {
		return nil, fmt.Errorf("writing protocol %s: %w", p.Name, err)
	}
	return out.Bytes(), nil
}
